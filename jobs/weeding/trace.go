package weeding

import (
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
)

// tracer joins half-edges into closed loops. Make it with newTracer.
type tracer struct {
	budget *budget.Budget
	c      *cells
	order  []planar.HalfEdge
	after  []int32 // by place in order: the next that leaves the same vertex, noPlace for none
	leave  vertices
}

// noPlace stands for no place in the order of a tracer.
const noPlace = -1

func newTracer(b *budget.Budget, c *cells) *tracer { return &tracer{budget: b, c: c} }

// add takes a half-edge in that was not yet.
func (t *tracer) add(h planar.HalfEdge) {
	t.budget.Step()
	place := int32(len(t.order))
	t.order, t.after = append(t.order, h), append(t.after, noPlace)
	if v := t.leave.at(t.c.Start(h)); v.first == noPlace {
		v.first, v.last = place, place
	} else {
		t.after[v.last], v.last = place, place
	}
}

// loops walks all half-edges added, at a corner with several taking the first
// clockwise from the way back, so that what lies on the left stays together.
// As many must enter a vertex as leave it.
func (t *tracer) loops() [][]planar.HalfEdge {
	used := make([]bool, len(t.order))
	var loops [][]planar.HalfEdge
	for first := range int32(len(t.order)) {
		if used[first] {
			continue
		}
		var loop []planar.HalfEdge
		for k := first; !used[k]; k = t.next(k) {
			used[k] = true
			loop = append(loop, t.order[k])
		}
		loops = append(loops, loop)
	}
	return loops
}

// next returns the place of the half-edge that follows that at k. What lies on the left of
// one that arrives reaches clockwise to one that leaves, so every half-edge follows
// exactly one other.
func (t *tracer) next(k int32) int32 {
	c, h := t.c, t.order[k]
	t.budget.Step()
	at := c.Point(c.End(h))
	back := c.Point(c.Start(h)).Sub(at)
	best, least := k, math.Inf(1)
	first := t.leave.at(c.End(h)).first
	if first != noPlace && t.after[first] == noPlace {
		return first // the only one
	}
	for g := first; g != noPlace; g = t.after[g] {
		t.budget.Step()
		v := c.Point(c.End(t.order[g])).Sub(at)
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
