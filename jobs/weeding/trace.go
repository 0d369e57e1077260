package weeding

import (
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
)

// tracer joins half-edges into closed loops.
type tracer struct {
	budget *budget.Budget
	c      *cells
	order  []planar.HalfEdge
	out    map[int32][]planar.HalfEdge // by vertex: those that leave it
}

func (t *tracer) add(h planar.HalfEdge) {
	t.budget.Step()
	t.order = append(t.order, h)
	v := t.c.Start(h)
	t.out[v] = append(t.out[v], h)
}

// loops walks all half-edges added, at a corner with several taking the first
// clockwise from the way back, so that what lies on the left stays together.
// As many must enter a vertex as leave it.
func (t *tracer) loops() [][]planar.HalfEdge {
	used := map[planar.HalfEdge]bool{}
	var loops [][]planar.HalfEdge
	for _, first := range t.order {
		if used[first] {
			continue
		}
		var loop []planar.HalfEdge
		for h := first; !used[h]; h = t.next(h) {
			used[h] = true
			loop = append(loop, h)
		}
		loops = append(loops, loop)
	}
	return loops
}

// next returns the half-edge that follows h. What lies on the left of one
// that arrives reaches clockwise to one that leaves, so every half-edge follows
// exactly one other.
func (t *tracer) next(h planar.HalfEdge) planar.HalfEdge {
	c := t.c
	t.budget.Spend(1 + len(t.out[c.End(h)]))
	at := c.Point(c.End(h))
	back := c.Point(c.Start(h)).Sub(at)
	best, least := h, math.Inf(1)
	for _, g := range t.out[c.End(h)] {
		v := c.Point(c.End(g)).Sub(at)
		turn := math.Atan2(v.Cross(back), v.Dot(back))
		if turn <= 0 {
			turn += 2 * math.Pi
		}
		if turn < least {
			best, least = g, turn
		}
	}
	return best
}
