package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Pole is the centre of the largest circle found inside a region.
type Pole struct {
	Centre geometry.Point
	Radius float64 // its distance to the boundary; 0 for a region without an inside
	// Gap bounds how much larger the largest circle can be: no more than the
	// precision asked for, unless the squares to look at ran out first.
	Gap float64
}

// Pole returns the pole of inaccessibility, the inside point farthest from
// the boundary, to the given precision in mm.
//
// The box is covered by squares. A square whose centre lies d from the
// boundary holds no point farther than d + half its diagonal; the square with
// the highest such bound is quartered until no bound exceeds the best centre
// by more than the precision (a branch and bound search).
func (r *Region) Pole(b *budget.Budget, precision float64) Pole {
	s := poleSearch{budget: b, r: r}
	return s.run(precision, math.MaxInt)
}

type poleSearch struct {
	budget *budget.Budget
	r      *Region
	best   Pole // at the beginning a circle already known, or none
	queue  squares
	made   int
	// convex says that the region is convex, so that the lines of its edges tell how far a
	// place inside lies off its boundary.
	convex bool
}

// run is Pole that looks at no more than about so many squares.
func (s *poleSearch) run(precision float64, most int) Pole {
	if s.r.bounds.Empty() {
		return s.best
	}
	if s.best.Radius == 0 {
		s.best.Centre = s.r.bounds.Centre()
	}
	s.cover()
	for len(s.queue) > 0 && most > 0 {
		top := s.queue.pop()
		s.best.Gap = max(0, top.bound-s.best.Radius)
		if s.best.Gap <= precision {
			return s.best
		}
		s.quarter(top)
		most -= 4
	}
	if len(s.queue) == 0 {
		s.best.Gap = 0
	}
	return s.best
}

// cover lays squares over the box, no more than 32 along its longer side.
func (s *poleSearch) cover() {
	box := s.r.bounds
	long, short := max(box.Width(), box.Height()), min(box.Width(), box.Height())
	side := max(short, long/32)
	if side == 0 {
		return
	}
	for x := box.Min.X; x < box.Max.X || x == box.Min.X; x += side {
		for y := box.Min.Y; y < box.Max.Y || y == box.Min.Y; y += side {
			s.add(geometry.Pt(x+side/2, y+side/2), side/2)
		}
	}
	s.add(box.Centre(), 0)
}

func (s *poleSearch) add(centre geometry.Point, half float64) {
	reach := half * math.Sqrt2
	if d, less := s.lesser(centre); less {
		s.keep(centre, half, d+reach)
		return
	}
	foot, ok := s.r.Nearest(s.budget, centre, math.Inf(1))
	if !ok {
		return
	}
	d := foot.Dist
	if d+reach <= s.best.Radius && half > 0 {
		return // whichever side of the boundary it lies on
	}
	if !s.r.Inside(s.budget, centre) {
		d = -d
	}
	if d > s.best.Radius {
		s.best.Centre, s.best.Radius = centre, d
	}
	s.keep(centre, half, d+reach)
}

// keep puts a square into the queue where it may hold a better centre than the best.
func (s *poleSearch) keep(centre geometry.Point, half, bound float64) {
	if bound > s.best.Radius && half > 0 {
		s.made++
		s.queue.push(square{centre, half, bound, s.made})
	}
}

// lesser returns how far a place inside a convex region lies off its boundary, where that
// is plainly less than the best.
func (s *poleSearch) lesser(p geometry.Point) (d float64, less bool) {
	if !s.convex {
		return 0, false
	}
	s.budget.Spend(len(s.r.edges) / 4)
	d = s.best.Radius * (1 - 1e-9)
	for i := range s.r.edges {
		e := &s.r.edges[i]
		if off := e.dir.X*(p.Y-e.a.Y) - e.dir.Y*(p.X-e.a.X); off <= 0 {
			return 0, false
		} else if off < d {
			d, less = off, true
		}
	}
	return d, less
}

func (s *poleSearch) quarter(q square) {
	h := q.half / 2
	for _, d := range [4]geometry.Point{{X: -h, Y: -h}, {X: h, Y: -h}, {X: -h, Y: h}, {X: h, Y: h}} {
		s.add(q.centre.Add(d), h)
	}
}

// square is one part of the box still to be searched.
type square struct {
	centre geometry.Point
	half   float64
	bound  float64
	order  int // breaks ties, so that the search is deterministic
}

// squares are a heap, the one with the highest bound on top.
type squares []square

func (q squares) before(i, j int) bool {
	if q[i].bound != q[j].bound {
		return q[i].bound > q[j].bound
	}
	return q[i].order < q[j].order
}

func (q *squares) push(x square) {
	*q = append(*q, x)
	h := *q
	for i := len(h) - 1; i > 0 && h.before(i, (i-1)/2); i = (i - 1) / 2 {
		h[i], h[(i-1)/2] = h[(i-1)/2], h[i]
	}
}

func (q *squares) pop() square {
	h := *q
	top, last := h[0], len(h)-1
	h[0] = h[last]
	h = h[:last]
	for i := 0; 2*i+1 < last; {
		child := 2*i + 1
		if child+1 < last && h.before(child+1, child) {
			child++
		}
		if !h.before(child, i) {
			break
		}
		h[i], h[child] = h[child], h[i]
		i = child
	}
	*q = h
	return top
}
