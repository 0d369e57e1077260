package mend

import (
	"math"

	"knifedesk/geometry"
)

// pointGrid finds points near a place by hashing them to square cells.
type pointGrid struct {
	cell   float64
	effort *Effort
	cells  map[[2]int64][]gridPoint
}

type gridPoint struct {
	at geometry.Point
	id int
}

func newPointGrid(cell float64, e *Effort) *pointGrid {
	return &pointGrid{cell, e, map[[2]int64][]gridPoint{}}
}

func (g *pointGrid) key(p geometry.Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / g.cell)), int64(math.Floor(p.Y / g.cell))}
}

func (g *pointGrid) add(p geometry.Point, id int) {
	k := g.key(p)
	g.cells[k] = append(g.cells[k], gridPoint{p, id})
}

// near calls visit for every point within dist of p, until the effort is used
// up; dist is at most a cell.
func (g *pointGrid) near(p geometry.Point, dist float64, visit func(id int)) {
	k, looks := g.key(p), 0
	defer func() { g.effort.search(looks, geometry.BoxAround(p).Grow(dist)) }()
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, q := range g.cells[[2]int64{k[0] + dx, k[1] + dy}] {
				looks++
				if !g.effort.spend(1) {
					return
				}
				if q.at.Dist(p) <= dist {
					visit(q.id)
				}
			}
		}
	}
}
