package clearance

import (
	"math"

	"knifedesk/geometry/budget"
)

// farthest is the largest number of empty rings that is told apart.
const farthest = math.MaxUint16

// emptyRings returns for every cell how many rings of cells round it, itself
// the first, hold no edge, so that searches in the middle of a wide region begin where
// something lies. It is the distance in steps of a king to the nearest cell with
// an edge, by two sweeps (Rosenfeld and Pfaltz, 1966).
func (g *grid) emptyRings(b *budget.Budget) []uint16 {
	far := make([]uint16, g.cols*g.rows)
	for row := range g.rows {
		b.Spend(g.cols)
		for col := range g.cols {
			c := row*g.cols + col
			if g.start[c] == g.start[c+1] {
				far[c] = 1 + min(g.ringsAt(far, col-1, row), g.ringsAt(far, col-1, row-1), g.ringsAt(far, col, row-1), g.ringsAt(far, col+1, row-1))
			}
		}
	}
	for row := g.rows - 1; row >= 0; row-- {
		b.Spend(g.cols)
		for col := g.cols - 1; col >= 0; col-- {
			c := row*g.cols + col
			far[c] = min(far[c], 1+min(g.ringsAt(far, col+1, row), g.ringsAt(far, col-1, row+1), g.ringsAt(far, col, row+1), g.ringsAt(far, col+1, row+1)))
		}
	}
	return far
}

// ringsAt returns what far says of a cell, the most that it can for one off the grid.
func (g *grid) ringsAt(far []uint16, col, row int) uint16 {
	if col < 0 || col >= g.cols || row < 0 || row >= g.rows {
		return farthest - 1
	}
	return min(far[row*g.cols+col], farthest-1)
}
