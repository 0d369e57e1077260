package outline

import (
	"math"
	"slices"
)

// Simplify returns rings with fewer corners that contain those given: corners
// that point inward are left out, and sides between two that point outward give
// way to the point where their neighbours meet. Each step takes the least area;
// it ends where no more than so many corners are left in all, or all has grown
// by the share of its area. No corner leaves the box, so that what just fits
// still does.
func Simplify(rings [][]Point, corners int, share float64) [][]Point {
	s := newSimplifier(rings)
	left := 0.0
	for _, ring := range rings {
		left += doubleArea(ring)
	}
	for left *= share; s.total > corners; s.total-- {
		ring, at := s.cheapest()
		if ring < 0 || s.costs[ring][at] > left {
			break
		}
		cost := s.costs[ring][at]
		if !s.take(ring, at) {
			s.costs[ring][at] = math.Inf(1)
			s.total++ // nothing was taken
			continue
		}
		left -= cost
	}
	return s.rings
}

// simplifier is the state of Simplify.
type simplifier struct {
	rings     [][]Point
	costs     [][]float64 // twice the area that the step at the corner adds
	total     int
	low, high Point
}

func newSimplifier(rings [][]Point) *simplifier {
	s := &simplifier{}
	s.low, s.high = Box(rings)
	for i, ring := range rings {
		s.rings = append(s.rings, slices.Clone(ring))
		s.costs = append(s.costs, make([]float64, len(ring)))
		s.total += len(ring)
		for at := range ring {
			s.price(i, at)
		}
	}
	return s
}

// cheapest returns the corner whose step adds the least; ring is -1 where there
// is none.
func (s *simplifier) cheapest() (ring, at int) {
	ring = -1
	least := math.Inf(1)
	for i, costs := range s.costs {
		for k, cost := range costs {
			if cost < least {
				ring, at, least = i, k, cost
			}
		}
	}
	return ring, at
}

// around returns the corner at and the one before, and the two after.
func (s *simplifier) around(ring, at int) (a, b, c, d Point) {
	r := s.rings[ring]
	n := len(r)
	return r[(at+n-1)%n], r[at], r[(at+1)%n], r[(at+2)%n]
}

// price sets what the step at a corner adds.
func (s *simplifier) price(ring, at int) {
	a, b, c, d := s.around(ring, at)
	cost := math.Inf(1)
	switch turn := cross(a, b, c); {
	case len(s.rings[ring]) <= 3:
	case turn <= 0:
		cost = float64(-turn)
	case cross(b, c, d) > 0:
		if p, ok := s.tip(a, b, c, d); ok {
			cost = float64(cross(b, p, c))
		}
	}
	s.costs[ring][at] = cost
}

// tip returns the point on the grid where the sides from a to b and from d to c
// meet when drawn on, moved outward by rounding; false where they do not, or
// outside the box.
func (s *simplifier) tip(a, b, c, d Point) (Point, bool) {
	ux, uy := float64(b.X-a.X), float64(b.Y-a.Y)
	vx, vy := float64(c.X-d.X), float64(c.Y-d.Y)
	wx, wy := float64(c.X-b.X), float64(c.Y-b.Y)
	det := float64(ux*vy) - float64(uy*vx)
	if det >= 0 {
		return Point{}, false
	}
	t := (float64(wx*vy) - float64(wy*vx)) / det
	if t < 0 || t > 1e6 {
		return Point{}, false
	}
	x, y := int64(math.Floor(float64(b.X)+float64(t*ux))), int64(math.Floor(float64(b.Y)+float64(t*uy)))
	best, found := Point{}, false
	for _, p := range [4]Point{{x, y}, {x + 1, y}, {x, y + 1}, {x + 1, y + 1}} {
		if p.X < s.low.X || p.Y < s.low.Y || p.X > s.high.X || p.Y > s.high.Y {
			continue
		}
		if cross(a, p, b) < 0 || cross(p, d, c) < 0 || cross(b, p, c) < 0 {
			continue
		}
		if !found || cross(b, p, c) < cross(b, best, c) {
			best, found = p, true
		}
	}
	return best, found
}

// take does the step at a corner, unless another corner is in the way.
func (s *simplifier) take(ring, at int) bool {
	a, b, c, d := s.around(ring, at)
	r := s.rings[ring]
	n := len(r)
	gone := at
	if cross(a, b, c) <= 0 {
		if !s.free(c, b, a) {
			return false
		}
	} else {
		p, ok := s.tip(a, b, c, d)
		if !ok || !s.free(b, p, c) {
			return false
		}
		r[at] = p
		gone = (at + 1) % n
	}
	s.rings[ring] = slices.Delete(r, gone, gone+1)
	s.costs[ring] = slices.Delete(s.costs[ring], gone, gone+1)
	for i := range min(7, n-1) {
		s.price(ring, (at-3+i+n-1)%(n-1))
	}
	return true
}

// free reports whether no corner lies in the triangle but its own.
func (s *simplifier) free(a, b, c Point) bool {
	for _, ring := range s.rings {
		if !clear(ring, a, b, c) {
			return false
		}
	}
	return true
}
