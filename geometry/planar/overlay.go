package planar

import "knifedesk/geometry/budget"

// Union returns the area inside at least one of the regions: it welds shapes
// that overlap, and the contours of one region that overlap each other. The
// error is that of Arrange, with the line counted over all rings.
func Union(b *budget.Budget, regions ...Region) (Polygons, error) {
	return overlay(b, regions, func(inside []bool, count int) bool { return count > 0 })
}

// Intersection returns the area inside all of the regions, of which there
// must be at least one to have any.
func Intersection(b *budget.Budget, regions ...Region) (Polygons, error) {
	return overlay(b, regions, func(inside []bool, count int) bool { return count > 0 && count == len(inside) })
}

// Difference returns the area inside r and inside none of the others.
func Difference(b *budget.Budget, r Region, others ...Region) (Polygons, error) {
	return overlay(b, append([]Region{r}, others...), func(inside []bool, count int) bool { return inside[0] && count == 1 })
}

// SymmetricDifference returns the area inside just one of r and s.
func SymmetricDifference(b *budget.Budget, r, s Region) (Polygons, error) {
	return overlay(b, []Region{r, s}, func(_ []bool, count int) bool { return count == 1 })
}

// overlay returns the area of the faces of all rings that want chooses, given
// in which regions a face lies and how many these are.
func overlay(b *budget.Budget, regions []Region, want func(inside []bool, count int) bool) (Polygons, error) {
	m, err := Arrange(b, ringLines(b, regions))
	if err != nil {
		return nil, err
	}
	w := walker{m: m, regions: regions, winding: make([]int32, len(regions)), inside: make([]bool, len(regions))}
	chosen := make([]bool, len(m.Faces))
	w.eachFace(b, func(face int32) { chosen[face] = want(w.inside, w.count) })
	return selection{m, chosen}.dissolve(b), nil
}

// ringLines returns the sides of the rings, with the index of the region as
// their source.
func ringLines(b *budget.Budget, regions []Region) []Line {
	n := 0
	for _, r := range regions {
		for _, ring := range r.Rings {
			n += len(ring)
		}
	}
	b.Spend(n)
	lines := make([]Line, 0, n)
	for i, r := range regions {
		for _, ring := range r.Rings {
			for k, p := range ring {
				lines = append(lines, Line{p, ring[(k+1)%len(ring)], int32(i)})
			}
		}
	}
	return lines
}

// walker is where eachFace stands: what holds the face at hand.
type walker struct {
	m       *Map
	regions []Region
	winding []int32 // by region: how often it winds round the face
	inside  []bool
	count   int
	stack   []room
}

// eachFace calls visit for every face while w says which regions hold it. It
// walks from the unbounded face through the edges and back again, and counts
// how often each region winds round the face at hand.
func (w *walker) eachFace(b *budget.Budget, visit func(face int32)) {
	seen := make([]bool, len(w.m.Faces))
	enter := func(face int32, by HalfEdge) {
		seen[face] = true
		visit(face)
		w.stack = append(w.stack, room{face: face, by: by})
	}
	enter(0, -1)
	for len(w.stack) > 0 {
		b.Step()
		r := &w.stack[len(w.stack)-1]
		h, ok := w.side(r)
		switch {
		case ok && h < 0:
			r.ring, r.at = r.ring+1, 0
		case ok:
			r.at++
			if to := w.m.Face(h.Twin()); !seen[to] {
				w.pass(b, h)
				enter(to, h)
			}
		default:
			if r.by >= 0 {
				w.pass(b, r.by.Twin())
			}
			w.stack = w.stack[:len(w.stack)-1]
		}
	}
}

// room is a face on the way from the unbounded one, the side by which it was
// entered, as seen from before, and the next of its sides to look at.
type room struct {
	face     int32
	by       HalfEdge
	ring, at int
}

// side returns the half-edge of the room that is next to be looked at, the
// holes' first; −1 past the end of a ring; false past the last ring.
func (w *walker) side(r *room) (HalfEdge, bool) {
	holes := w.m.Holes(r.face)
	ring := w.m.Faces[r.face].Outer
	switch {
	case r.ring < len(holes):
		ring = holes[r.ring]
	case r.ring > len(holes) || ring == NoRing:
		return -1, false
	}
	if halves := w.m.HalfEdges(ring); r.at < len(halves) {
		return halves[r.at], true
	}
	return -1, true
}

// pass brings the counts from the left of h to its right.
func (w *walker) pass(b *budget.Budget, h HalfEdge) {
	edge := h.Edge()
	b.Spend(len(w.m.Sources(edge)))
	for i, source := range w.m.Sources(edge) {
		// Going from left to right across a line that runs along h leaves one turn.
		if w.m.Forward(edge, i) == (h&1 == 0) {
			w.winding[source]--
		} else {
			w.winding[source]++
		}
		is := w.regions[source].Rule.holds(w.winding[source])
		if is && !w.inside[source] {
			w.count++
		} else if !is && w.inside[source] {
			w.count--
		}
		w.inside[source] = is
	}
}
