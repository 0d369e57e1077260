// Package exact answers in whole steps of the grid whether outlines overlap,
// and moves them by a few steps until none do. Two outlines are disjoint where
// every convex part of one has a side, or the other's part has one, that the
// two lie on either side of; that is decided in integers. Outlines may touch.
package exact

import (
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/outline"
)

// Body is an outline in a place: where the lower left corner of its box is.
type Body struct {
	*outline.Outline
	X, Y int64
	// The corner may lie from Low to High. A body that has both where it lies
	// stays there.
	Low, High outline.Point
}

// side is how two convex parts lie to each other: n·d − c, with d the way from
// the first body to the second, is not negative where the side divides them.
type side struct {
	nx, ny, c int64
	length    float64 // of the normal n
}

func (s *side) value(dx, dy int64) int64 { return s.nx*dx + s.ny*dy - s.c }

// divide returns the side of one of the convex parts p and q from which the
// other, with its body (dx, dy) from that of p, is farthest, and how far in
// steps: negative where they overlap.
func divide(p, q []outline.Point, dx, dy int64) (side, float64) {
	s, d := facing(p, q, dx, dy)
	t, e := facing(q, p, -dx, -dy)
	if e > d {
		t.nx, t.ny = -t.nx, -t.ny
		return t, e
	}
	return s, d
}

// facing returns the side of p from which q is farthest.
func facing(p, q []outline.Point, dx, dy int64) (side, float64) {
	var best side
	far := math.Inf(-1)
	for i, a := range p {
		b := p[(i+1)%len(p)]
		s := side{nx: b.Y - a.Y, ny: a.X - b.X}
		s.c = math.MinInt64
		for _, v := range q {
			s.c = max(s.c, s.nx*(a.X-v.X)+s.ny*(a.Y-v.Y))
		}
		x, y := float64(s.nx), float64(s.ny)
		s.length = math.Sqrt(float64(x*x) + float64(y*y))
		if d := float64(s.value(dx, dy)) / s.length; d > far {
			best, far = s, d
		}
	}
	return best, far
}

// apart reports whether the boxes of two bodies keep more than a distance.
func apart(a, b *Body, distance int64) bool {
	return a.X+int64(a.W)+distance < b.X || b.X+int64(b.W)+distance < a.X ||
		a.Y+int64(a.H)+distance < b.Y || b.Y+int64(b.H)+distance < a.Y
}

// near reports whether the boxes of the parts of two bodies, which lie
// (dx, dy) apart, keep no more than a distance.
func near(p, q *outline.Span, dx, dy, distance int64) bool {
	return p.High.X+distance >= q.Low.X+dx && q.High.X+dx+distance >= p.Low.X && p.High.Y+distance >= q.Low.Y+dy && q.High.Y+dy+distance >= p.Low.Y
}

// Disjoint reports whether no two bodies overlap and all lie within their
// limits: exactly.
func Disjoint(b *budget.Budget, bodies []Body) bool {
	for i := range bodies {
		a := &bodies[i]
		if a.X < a.Low.X || a.Y < a.Low.Y || a.X > a.High.X || a.Y > a.High.Y {
			return false
		}
		for k := range i {
			b.Step()
			c := &bodies[k]
			if a.fixed() && c.fixed() || apart(a, c, 0) {
				continue
			}
			if !disjoint(b, a, c) {
				return false
			}
		}
	}
	return true
}

func (a *Body) fixed() bool { return a.Low == a.High }

// disjoint reports whether two bodies do not overlap.
func disjoint(b *budget.Budget, a, c *Body) bool {
	dx, dy := c.X-a.X, c.Y-a.Y
	for i, p := range a.Parts {
		for k, q := range c.Parts {
			b.Step()
			if !near(&a.Spans[i], &c.Spans[k], dx, dy, 0) {
				continue
			}
			if _, d := divide(p, q, dx, dy); d < 0 {
				return false
			}
		}
	}
	return true
}
