package planar

import "knifedesk/geometry"

// Union returns the area inside at least one of the regions: it welds shapes
// that overlap, and the contours of one region that overlap each other. The
// error is that of Arrange, with the line counted over all rings.
func Union(regions ...Region) (Polygons, error) {
	return overlay(regions, func(inside []bool, count int) bool { return count > 0 })
}

// Intersection returns the area inside all of the regions, of which there
// must be at least one to have any.
func Intersection(regions ...Region) (Polygons, error) {
	return overlay(regions, func(inside []bool, count int) bool { return count > 0 && count == len(inside) })
}

// Difference returns the area inside a and inside none of the others.
func Difference(a Region, others ...Region) (Polygons, error) {
	return overlay(append([]Region{a}, others...), func(inside []bool, count int) bool { return inside[0] && count == 1 })
}

// SymmetricDifference returns the area inside just one of a and b.
func SymmetricDifference(a, b Region) (Polygons, error) {
	return overlay([]Region{a, b}, func(_ []bool, count int) bool { return count == 1 })
}

// overlay returns the area of the faces of all rings that want chooses, given
// in which regions a face lies and how many these are.
func overlay(regions []Region, want func(inside []bool, count int) bool) (Polygons, error) {
	m, err := Arrange(ringLines(regions))
	if err != nil {
		return nil, err
	}
	chosen := make([]bool, len(m.Faces))
	m.eachFace(regions, func(face int32, inside []bool, count int) { chosen[face] = want(inside, count) })
	return m.Dissolve(chosen), nil
}

// ringLines returns the sides of the rings, with the index of the region as
// their source.
func ringLines(regions []Region) []Line {
	n := 0
	for _, r := range regions {
		for _, ring := range r.Rings {
			n += len(ring)
		}
	}
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

// eachFace calls visit for every face with the regions that hold it. It walks
// from the unbounded face through the edges and back again, and counts how
// often each region winds round the face at hand.
func (m *Map) eachFace(regions []Region, visit func(face int32, inside []bool, count int)) {
	w := walker{m: m, regions: regions, winding: make([]int32, len(regions)), inside: make([]bool, len(regions))}
	seen := make([]bool, len(m.Faces))
	enter := func(face int32, by HalfEdge) {
		seen[face] = true
		visit(face, w.inside, w.count)
		w.stack = append(w.stack, room{face: face, by: by})
	}
	enter(0, -1)
	for len(w.stack) > 0 {
		r := &w.stack[len(w.stack)-1]
		h, ok := m.side(r.face, r.ring, r.at)
		switch {
		case ok && h < 0:
			r.ring, r.at = r.ring+1, 0
		case ok:
			r.at++
			if to := m.Face(h.Twin()); !seen[to] {
				w.pass(h)
				enter(to, h)
			}
		default:
			if r.by >= 0 {
				w.pass(r.by.Twin())
			}
			w.stack = w.stack[:len(w.stack)-1]
		}
	}
}

// walker is where eachFace stands.
type walker struct {
	m       *Map
	regions []Region
	winding []int32
	inside  []bool
	count   int
	stack   []room
}

// room is a face on the way from the unbounded one, the side by which it was
// entered, as seen from before, and the next of its sides to look at.
type room struct {
	face     int32
	by       HalfEdge
	ring, at int
}

// side returns the at-th half-edge of the ring-th ring of face, holes first;
// −1 past the end of the ring; false past the last ring.
func (m *Map) side(face int32, ring, at int) (HalfEdge, bool) {
	holes := m.Holes(face)
	r := m.Faces[face].Outer
	switch {
	case ring < len(holes):
		r = holes[ring]
	case ring > len(holes) || r == NoRing:
		return -1, false
	}
	if halves := m.HalfEdges(r); at < len(halves) {
		return halves[at], true
	}
	return -1, true
}

// pass brings the counts from the left of h to its right.
func (w *walker) pass(h HalfEdge) {
	edge := h.Edge()
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

// Dissolve returns the area of the chosen faces, without the edges between
// two of them. Corners that lie exactly on a straight line between their
// neighbours are left out. The unbounded face does not count.
func (m *Map) Dissolve(chosen []bool) Polygons {
	in := func(face int32) bool { return face != 0 && chosen[face] }
	var left []bool // by edge of the kept map
	k := m.Keep(func(edge int32) bool {
		e := m.Edges[edge]
		if in(e.Left) == in(e.Right) {
			return false
		}
		left = append(left, in(e.Left))
		return true
	})
	var ps Polygons
	for f := int32(1); f < int32(len(k.Faces)); f++ {
		h := k.HalfEdges(k.Faces[f].Outer)[0]
		if left[h.Edge()] != (h&1 == 0) {
			continue
		}
		p := Polygon{Outer: k.corners(k.Faces[f].Outer)}
		for _, r := range k.Holes(f) {
			p.Holes = append(p.Holes, k.corners(r))
		}
		ps = append(ps, p)
	}
	return ps
}

// corners returns the points of the ring at which it turns.
func (m *Map) corners(r Ring) []geometry.Point {
	var pts []geometry.Point
	halves := m.HalfEdges(r)
	for i, h := range halves {
		before := halves[(i+len(halves)-1)%len(halves)]
		if v := m.Start(h); cross(m.nodes[m.Start(before)], m.nodes[v], m.nodes[m.End(h)]) != 0 {
			pts = append(pts, m.Point(v))
		}
	}
	return pts
}
