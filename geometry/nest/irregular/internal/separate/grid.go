package separate

import (
	"math/bits"
)

// acrossGrid is how many columns a room has.
const acrossGrid = 16

// grid finds items by place: one bit for each in every column and row of the
// room that its box meets.
type grid struct {
	words         int
	columns, rows int
	perX, perY    float64 // cells in a step
	byX, byY      []uint64
	found         []uint64
}

func newGrid(items []Item, room Room) grid {
	g := grid{words: (len(items) + 63) / 64, columns: acrossGrid}
	length := room.Pitch*float64(room.Sheets-1) + room.Length
	g.rows = int(max(16, min(512, acrossGrid*length/room.Width)))
	g.perX, g.perY = float64(g.columns)/room.Width, float64(g.rows)/length
	g.byX = make([]uint64, g.columns*g.words)
	g.byY = make([]uint64, g.rows*g.words)
	g.found = make([]uint64, g.words)
	return g
}

func trailing(v uint64) int { return bits.TrailingZeros64(v) }

func cell(v float64, n int) int {
	if v <= 0 {
		return 0
	}
	return min(int(v), n-1)
}

func (g *grid) add(i int, b box) {
	w, bit := i/64, uint64(1)<<(i%64)
	for c := cell(b.x0*g.perX, g.columns); c <= cell(b.x1*g.perX, g.columns); c++ {
		g.byX[c*g.words+w] |= bit
	}
	for r := cell(b.y0*g.perY, g.rows); r <= cell(b.y1*g.perY, g.rows); r++ {
		g.byY[r*g.words+w] |= bit
	}
}

func (g *grid) remove(i int, b box) {
	w, bit := i/64, uint64(1)<<(i%64)
	for c := cell(b.x0*g.perX, g.columns); c <= cell(b.x1*g.perX, g.columns); c++ {
		g.byX[c*g.words+w] &^= bit
	}
	for r := cell(b.y0*g.perY, g.rows); r <= cell(b.y1*g.perY, g.rows); r++ {
		g.byY[r*g.words+w] &^= bit
	}
}

// find returns the bits of the items that may meet the box. They hold until the
// next call.
func (g *grid) find(b box) []uint64 {
	c0, c1 := cell(b.x0*g.perX, g.columns), cell(b.x1*g.perX, g.columns)
	r0, r1 := cell(b.y0*g.perY, g.rows), cell(b.y1*g.perY, g.rows)
	for w := range g.words {
		var x, y uint64
		for c := c0; c <= c1; c++ {
			x |= g.byX[c*g.words+w]
		}
		for r := r0; r <= r1; r++ {
			y |= g.byY[r*g.words+w]
		}
		g.found[w] = x & y
	}
	return g.found
}
