package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// Foot is the point of the boundary nearest to some point.
type Foot struct {
	Point geometry.Point
	Dist  float64
	edge  int
}

// Nearest returns the nearest point of the boundary and whether there is one
// closer than within.
func (r *Region) Nearest(b *budget.Budget, p geometry.Point, within float64) (Foot, bool) {
	return r.nearest(b, p, within, -1, -1)
}

// nearest is Nearest with up to two edges left out.
func (r *Region) nearest(b *budget.Budget, p geometry.Point, within float64, skip, skip2 int) (Foot, bool) {
	g := &r.grid
	col, row := g.col(p.X), g.row(p.Y)
	s := search{r: r, p: p, best: within * within, skip: int32(skip), skip2: int32(skip2), found: -1}
	if len(r.edges) <= few { // all in one cell
		s.visit(g.items)
		b.Spend(s.steps)
		return s.foot()
	}
	margin := g.margin(p, col, row)
	last := max(col, g.cols-1-col, row, g.rows-1-row)
	for k := int(g.empty[row*g.cols+col]); k <= last; k++ {
		if k > 0 {
			if reach := float64(k-1)*g.cell + margin; reach*reach > s.best {
				break
			}
		}
		s.steps = 1
		s.ring(col, row, k)
		b.Spend(s.steps)
	}
	return s.foot()
}

// foot returns what was found.
func (s *search) foot() (Foot, bool) {
	if s.found < 0 {
		return Foot{}, false
	}
	return Foot{Point: s.at, Dist: math.Sqrt(s.best), edge: int(s.found)}, true
}

// margin returns how far p lies inside its own cell, 0 off the grid.
func (g *grid) margin(p geometry.Point, col, row int) float64 {
	x := p.X - g.min.X - float64(col)*g.cell
	y := p.Y - g.min.Y - float64(row)*g.cell
	return math.Max(0, math.Min(math.Min(x, g.cell-x), math.Min(y, g.cell-y)))
}

// search collects the nearest edge seen so far.
type search struct {
	r           *Region
	p, at       geometry.Point
	best        float64 // squared
	skip, skip2 int32
	found       int32
	steps       int
}

// ring visits the cells at Chebyshev distance k.
func (s *search) ring(col, row, k int) {
	g := &s.r.grid
	for y := max(row-k, 0); y <= min(row+k, g.rows-1); y++ {
		step := 1
		if y != row-k && y != row+k && k > 0 {
			step = 2 * k
		}
		for x := col - k; x <= col+k; x += step {
			if x >= 0 && x < g.cols {
				s.visit(g.at(x, y))
			}
		}
	}
}

func (s *search) visit(items []int32) {
	s.steps += 1 + len(items)
	for _, i := range items {
		if i == s.skip || i == s.skip2 {
			continue
		}
		e := &s.r.edges[i]
		q := e.closest(s.p)
		dx, dy := q.X-s.p.X, q.Y-s.p.Y
		if d := dx*dx + dy*dy; d < s.best || (d == s.best && s.found > i) {
			s.best, s.at, s.found = d, q, i
		}
	}
}

// Inside reports whether p lies inside the region, by the parity of the edges
// that a ray along the x axis crosses.
func (r *Region) Inside(b *budget.Budget, p geometry.Point) bool {
	if !r.bounds.Contains(p) {
		return false
	}
	g := &r.grid
	row := g.row(p.Y)
	edges := g.rowItems[g.rowStart[row]:g.rowStart[row+1]]
	b.Spend(1 + len(edges))
	in := false
	for _, i := range edges {
		if near.Crosses(r.edges[i].a, r.edges[i].b, p) != 0 {
			in = !in
		}
	}
	return in
}
