package weeding

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// lettering looks for letters among some cells.
type lettering struct {
	budget *budget.Budget
	*cells
	turned   float64            // by how much it is turned, radians anticlockwise
	outlines [][]geometry.Point // by bounded face: its outer ring
	edgesOf  [][]outlineEdge    // by face, once they were asked for
}

// lines returns the lines of lettering, the letters with their dots and accents.
func (s *survey) lines() []textline {
	c := lettering{budget: s.budget, cells: s.cells, outlines: make([][]geometry.Point, len(s.cells.Faces)), edgesOf: make([][]outlineEdge, len(s.cells.Faces))}
	for i := range s.base {
		c.outlines[s.base[i].face] = s.base[i].rings[0]
	}
	var lines []textline
	for _, way := range c.ways(c.candidates()) {
		c.turned = way.turn
		for _, l := range linesOf(s.budget, c.gather(c.figures(way.members))) {
			l.turned = way.turn
			lines = append(lines, l)
		}
	}
	return lines
}

// outline returns the box of a candidate along the lettering.
func (c lettering) outline(one candidate) geometry.Box {
	if c.turned == 0 {
		return one.upright
	}
	pts := c.outlines[one.face]
	c.budget.Spend(len(pts))
	back, box := geometry.Rotate(-c.turned), geometry.EmptyBox()
	for _, p := range pts {
		box = box.Include(back.Apply(p))
	}
	return box
}

// leastHeight returns the height of the lowest letter in mm, 0 for none.
func leastHeight(lines []textline) float64 {
	least := 0.0
	for _, l := range lines {
		if h := l.lowest(); least == 0 || h < least {
			least = h
		}
	}
	return least
}

// simpleShare is the share of its convex hull that a mark fills: stops and
// straight apostrophes all of it, commas and curled ones a little less.
const simpleShare = 0.75

// candidate is a face that may be a letter or a mark of one.
type candidate struct {
	face    int32
	filled  float64      // the share of its convex hull
	upright geometry.Box // along the axes
}

// candidates returns what is drawn on the outside or on a plate: letters, whether they
// are kept or cut out of a plate, but neither the plate nor register marks nor what
// the letters hold.
func (c lettering) candidates() []candidate {
	var all []candidate
	marks := slices.ContainsFunc(c.strokes, isMark)
	seen := make([]bool, len(c.Faces))
	seen[0] = true
	for todo := []int32{0}; len(todo) > 0; {
		f := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, child := range c.held(f) {
			if seen[child] {
				continue
			}
			seen[child] = true
			filled := c.filled(child)
			switch {
			case c.depth[child] == 0 || c.plate(child, filled):
				todo = append(todo, child)
			case marks && c.marked(c.budget, child):
			default:
				all = append(all, candidate{child, filled, geometry.BoxAround(c.outlines[child]...)})
			}
		}
	}
	return all
}

// figures returns some candidates as they lie along the lettering, without rules and
// dashes.
func (c lettering) figures(some []candidate) []figure {
	var all []figure
	for _, one := range some {
		if box := c.outline(one); one.filled < plateShare || box.Width() <= 2*box.Height() {
			all = append(all, figure{Box: box, face: one.face, simple: one.filled >= simpleShare && len(c.Holes(one.face)) == 0})
		}
	}
	return all
}

// held returns the faces inside the holes of a face that bound it.
func (c lettering) held(face int32) []int32 {
	var held []int32
	for _, hole := range c.Holes(face) {
		c.budget.Spend(1 + len(c.HalfEdges(hole)))
		for _, h := range c.HalfEdges(hole) {
			if g := c.Face(h.Twin()); len(held) == 0 || held[len(held)-1] != g {
				held = append(held, g)
			}
		}
	}
	return held
}

// plateShare is the share of its convex hull that a plate fills: rectangles,
// with round corners or without, and ellipses fill all of it.
const plateShare = 0.97

// filled returns the share of its convex hull that the outline of a face fills.
func (c lettering) filled(face int32) float64 {
	pts := c.outlines[face]
	if c.budget.Spend(len(pts)); convex(pts) {
		return 1
	}
	return ringArea(pts) / ringArea(hull(c.budget, pts))
}

// convex reports whether a ring that runs anticlockwise and nowhere meets itself never
// turns to its right.
func convex(ring []geometry.Point) bool {
	before, at := ring[len(ring)-2], ring[len(ring)-1]
	for _, p := range ring {
		if at.Sub(before).Cross(p.Sub(at)) < 0 {
			return false
		}
		before, at = at, p
	}
	return true
}

// plate reports whether a face carries figures: it fills its hull, but for
// round-off, and has three holes or more, where no letter has over two, or is a
// band round a face that has. Words joined in one piece have many holes too, and
// fill less.
func (c lettering) plate(face int32, filled float64) bool {
	if filled < plateShare {
		return false
	}
	for range len(c.Faces) {
		c.budget.Step()
		switch holes := c.Holes(face); len(holes) {
		case 0, 2:
			return false
		case 1:
			face = c.Face(c.HalfEdges(holes[0])[0].Twin())
		default:
			return true
		}
	}
	return false
}

// hull returns the convex hull of the points, anticlockwise (Andrew's monotone
// chains, 1979).
func hull(b *budget.Budget, pts []geometry.Point) []geometry.Point {
	pts = slices.Clone(pts)
	slices.SortFunc(pts, func(p, q geometry.Point) int {
		b.Step()
		return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
	})
	chain := func() []geometry.Point {
		var half []geometry.Point
		for _, p := range pts {
			for n := len(half); n > 1 && half[n-1].Sub(half[n-2]).Cross(p.Sub(half[n-2])) <= 0; n-- {
				half = half[:n-1]
			}
			half = append(half, p)
		}
		return half[:len(half)-1]
	}
	lower := chain()
	slices.Reverse(pts)
	return append(lower, chain()...)
}
