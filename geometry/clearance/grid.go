package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// maxCells bounds the memory of one grid.
const maxCells = 1 << 22

// few edges are looked at one by one sooner than by cells.
const few = 24

// grid lists the edges that touch each square cell, and those of each row of
// cells for tests of containment.
type grid struct {
	min        geometry.Point
	cell       float64
	cols, rows int
	start      []int32 // by cell, row-major, into items
	items      []int32
	rowStart   []int32
	rowItems   []int32
	empty      []uint16 // by cell: rings of cells round it without an edge
}

// newGrid makes a grid of about two cells an edge, and up to eight where there
// are thousands of edges: long boundaries leave most cells empty and crowd in the
// others. Few edges lie in one cell.
func newGrid(b *budget.Budget, edges []edge, box geometry.Box) grid {
	g := grid{min: box.Min, cell: 1, cols: 1, rows: 1}
	w, h := box.Width(), box.Height()
	crowded := max(1, min(4, len(edges)/4000))
	long := math.Max(w, h)
	if n := float64(2*crowded*len(edges) + 1); len(edges) <= few {
		g.cell = math.Max(g.cell, 2*long)
	} else if long > 0 {
		g.cell = math.Max(math.Sqrt(w*h/n), long/n)
		g.cols = int(math.Min(w/g.cell, maxCells)) + 1
		g.rows = int(math.Min(h/g.cell, maxCells)) + 1
	}
	g.fill(b, edges)
	g.empty = g.emptyRings(b)
	return g
}

// fill counts first and places afterwards, so that the lists are two slices.
func (g *grid) fill(b *budget.Budget, edges []edge) {
	g.start = make([]int32, g.cols*g.rows+1)
	g.rowStart = make([]int32, g.rows+1)
	for _, e := range edges {
		g.eachRow(e, func(row, from, to int) {
			b.Spend(1 + to - from)
			g.rowStart[row+1]++
			for c := from; c <= to; c++ {
				g.start[row*g.cols+c+1]++
			}
		})
	}
	accumulate(g.start)
	accumulate(g.rowStart)
	g.items = make([]int32, g.start[len(g.start)-1])
	g.rowItems = make([]int32, g.rowStart[len(g.rowStart)-1])
	at := append([]int32(nil), g.start...)
	rowAt := append([]int32(nil), g.rowStart...)
	for i, e := range edges {
		g.eachRow(e, func(row, from, to int) {
			b.Spend(1 + to - from)
			g.rowItems[rowAt[row]] = int32(i)
			rowAt[row]++
			for c := row*g.cols + from; c <= row*g.cols+to; c++ {
				g.items[at[c]] = int32(i)
				at[c]++
			}
		})
	}
}

func accumulate(counts []int32) {
	for i := 1; i < len(counts); i++ {
		counts[i] += counts[i-1]
	}
}

// eachRow calls f for every row that the edge touches with the range of
// columns it touches there, widened a little against rounding.
func (g *grid) eachRow(e edge, f func(row, from, to int)) {
	lo, hi := e.a, e.b
	if lo.Y > hi.Y {
		lo, hi = hi, lo
	}
	slack := g.cell * 1e-6
	first, last := g.row(lo.Y-slack), g.row(hi.Y+slack)
	for row := first; row <= last; row++ {
		x0, x1 := lo.X, hi.X
		if hi.Y > lo.Y {
			slope := (hi.X - lo.X) / (hi.Y - lo.Y)
			bottom := g.min.Y + float64(row)*g.cell - slack
			if bottom > lo.Y {
				x0 = lo.X + slope*(bottom-lo.Y)
			}
			if top := bottom + g.cell + 2*slack; top < hi.Y {
				x1 = lo.X + slope*(top-lo.Y)
			}
		}
		f(row, g.col(math.Min(x0, x1)-slack), g.col(math.Max(x0, x1)+slack))
	}
}

// row and col return the row and column of a coordinate, the nearest one for
// a coordinate off the grid.
func (g *grid) row(y float64) int { return index((y-g.min.Y)/g.cell, g.rows) }
func (g *grid) col(x float64) int { return index((x-g.min.X)/g.cell, g.cols) }

func index(v float64, n int) int {
	if !(v > 0) {
		return 0
	}
	if v >= float64(n) {
		return n - 1
	}
	return int(v)
}

// at returns the edges that touch a cell.
func (g *grid) at(col, row int) []int32 {
	c := row*g.cols + col
	return g.items[g.start[c]:g.start[c+1]]
}
