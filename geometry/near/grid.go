package near

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Grid finds points near a place by hashing them to square cells. Make it with
// NewGrid.
type Grid struct {
	side   float64
	origin geometry.Point
	cells  map[cell][]point
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
	return &Grid{side: side, origin: origin, cells: map[cell][]point{}}
}

func (g *Grid) cellOf(p geometry.Point) cell {
	return cell{int64(math.Floor((p.X - g.origin.X) / g.side)), int64(math.Floor((p.Y - g.origin.Y) / g.side))}
}

// Add puts in the point id.
func (g *Grid) Add(id int, p geometry.Point) {
	c := g.cellOf(p)
	g.cells[c] = append(g.cells[c], point{p, id})
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
