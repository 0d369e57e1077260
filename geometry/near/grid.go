package near

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Grid finds points near a place by hashing them to square cells. Points may
// come and go. Make it with NewGrid.
type Grid struct {
	side   float64
	origin geometry.Point
	cells  map[cell][]point
	lo, hi cell // the corners of all cells that ever held a point
}

// cell is a square of the grid by its column and row.
type cell struct{ x, y int64 }

type point struct {
	at geometry.Point
	id int
}

// NewGrid returns an empty grid of cells with sides of that length, one of
// which has its lower left corner at origin. A good length is the distance
// within which points are looked for, or about that between neighbours.
func NewGrid(side float64, origin geometry.Point) *Grid {
	return &Grid{
		side: side, origin: origin, cells: map[cell][]point{},
		lo: cell{math.MaxInt64, math.MaxInt64}, hi: cell{math.MinInt64, math.MinInt64},
	}
}

func (g *Grid) cellOf(p geometry.Point) cell {
	return cell{int64(math.Floor((p.X - g.origin.X) / g.side)), int64(math.Floor((p.Y - g.origin.Y) / g.side))}
}

// Add puts in the point id.
func (g *Grid) Add(id int, p geometry.Point) {
	c := g.cellOf(p)
	g.cells[c] = append(g.cells[c], point{p, id})
	g.lo, g.hi = cell{min(g.lo.x, c.x), min(g.lo.y, c.y)}, cell{max(g.hi.x, c.x), max(g.hi.y, c.y)}
}

// Remove takes out the point id that was put in at p.
func (g *Grid) Remove(id int, p geometry.Point) {
	c := g.cellOf(p)
	g.cells[c] = slices.DeleteFunc(g.cells[c], func(q point) bool { return q.id == id })
}

// Near calls visit for every point within reach of p, reach being at most the
// side of a cell, until the steps that b allows are used up. Each point of the
// nine cells round p is a step. The points come by columns of cells, from the
// lower left, and of each cell in the order in which they were put in.
func (g *Grid) Near(b *budget.Budget, p geometry.Point, reach float64, visit func(id int)) {
	c := g.cellOf(p)
	for x := c.x - 1; x <= c.x+1; x++ {
		for y := c.y - 1; y <= c.y+1; y++ {
			for _, q := range g.cells[cell{x, y}] {
				if !b.Spend(1) {
					return
				}
				if q.at.Dist(p) <= reach {
					visit(q.id)
				}
			}
		}
	}
}

// Around calls see for the points round p, ring by ring of cells, with their
// Chebyshev distance from p, until all that are left are farther away than the
// distance that see returned last. Each cell and each point is a step.
func (g *Grid) Around(b *budget.Budget, p geometry.Point, see func(id int, dist float64) (enough float64)) {
	if g.hi.x < g.lo.x {
		return
	}
	c := g.cellOf(p)
	c = cell{max(g.lo.x, min(c.x, g.hi.x)), max(g.lo.y, min(c.y, g.hi.y))}
	off, enough := g.outside(p), math.Inf(1)
	visit := func(c cell) {
		b.Step()
		for _, q := range g.cells[c] {
			b.Step()
			enough = see(q.id, chebyshev(p, q.at))
		}
	}
	last := max(c.x-g.lo.x, g.hi.x-c.x, c.y-g.lo.y, g.hi.y-c.y)
	for ring := int64(0); ring <= last && math.Max(float64(ring-1)*g.side, off) <= enough; ring++ {
		eachOfRing(c, ring, visit)
	}
}

// outside returns how far p lies outside the cells, which is how much farther
// it is from every ring of them.
func (g *Grid) outside(p geometry.Point) float64 {
	corner := func(c cell) geometry.Point {
		return g.origin.Add(geometry.Pt(float64(c.x)*g.side, float64(c.y)*g.side))
	}
	lo, hi := corner(g.lo), corner(cell{g.hi.x + 1, g.hi.y + 1})
	return chebyshev(p, geometry.Pt(math.Max(lo.X, math.Min(p.X, hi.X)), math.Max(lo.Y, math.Min(p.Y, hi.Y))))
}

// eachOfRing visits the cells that lie so many cells from c: from left to
// right those below and above it, in between those on its left and right.
func eachOfRing(c cell, ring int64, visit func(cell)) {
	for d := -ring; d <= ring; d++ {
		visit(cell{c.x + d, c.y - ring})
		if ring > 0 {
			visit(cell{c.x + d, c.y + ring})
		}
		if d > -ring && d < ring {
			visit(cell{c.x - ring, c.y + d})
			visit(cell{c.x + ring, c.y + d})
		}
	}
}

// chebyshev returns the larger of the distances along the axes.
func chebyshev(p, q geometry.Point) float64 {
	return math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y))
}
