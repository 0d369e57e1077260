package figure

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Spots remembers, in cells of a few pixels, where marks stand and which
// region lies where, so that marks find room.
type Spots struct {
	b          *budget.Budget
	box        geometry.Box // pixels
	cols, rows int
	busy       []bool
	lines      lines
	failed     map[try]bool // where marks had no room
	region     []int32      // number of the region by cell, 0: none
}

// Cell is the side of a cell in pixels.
const Cell = 3.0

// newSpots has room for marks in a box, round what is shown of the work in another.
func newSpots(b *budget.Budget, box, work geometry.Box) *Spots {
	s := &Spots{b: b, box: box, cols: int(box.Width()/Cell) + 1, rows: int(box.Height()/Cell) + 1}
	s.busy, s.lines = make([]bool, s.cols*s.rows), lines{b: b, corner: box.Min, within: work, cols: s.cols, rows: s.rows, at: make([]bool, s.cols*s.rows)}
	s.failed = map[try]bool{}
	s.region = make([]int32, s.cols*s.rows)
	return s
}

// Count is how many cells there are.
func (s *Spots) Count() int { return len(s.busy) }

// Region returns the number of the region that a cell lies in, 0: none.
func (s *Spots) Region(i int) int { return int(s.region[i]) }

// At returns the cell of a point and whether there is one.
func (s *Spots) At(q geometry.Point) (int, bool) {
	x, y := math.Floor((q.X-s.box.Min.X)/Cell), math.Floor((q.Y-s.box.Min.Y)/Cell)
	if !(x >= 0 && y >= 0 && x < float64(s.cols) && y < float64(s.rows)) {
		return 0, false
	}
	return int(y)*s.cols + int(x), true
}

// Paint notes the region with the number (from 1) in the cells whose middle
// lies in its rings (pixels, the even-odd rule).
func (s *Spots) Paint(number int, rings []geometry.Path) {
	toCells := geometry.Translate(-s.box.Min.X, -s.box.Min.Y-Cell/2)
	for _, row := range rowsOf(s.b, rings, toCells, Cell) {
		if row.k < 0 || row.k >= s.rows {
			continue
		}
		s.b.Spend(1 + len(row.xs))
		for i := 0; i+1 < len(row.xs); i += 2 {
			from := max(0, int(math.Ceil(row.xs[i]/Cell-0.5)))
			for x := from; x < s.cols && (float64(x)+0.5)*Cell < row.xs[i+1]; x++ {
				s.region[row.k*s.cols+x] = int32(number)
			}
		}
	}
}

// disc calls f for the cells of a disc until it returns false. It returns
// false also where the disc leaves the box.
func (s *Spots) disc(q geometry.Point, r float64, f func(i int) bool) bool {
	return s.box.ContainsBox(geometry.BoxAround(q).Grow(r)) && s.Cells(q, r, f)
}

// Cells calls f for the cells of the box whose middle lies in a disc, until it returns
// false.
func (s *Spots) Cells(q geometry.Point, r float64, f func(i int) bool) bool {
	q = q.Sub(s.box.Min).Mul(1 / Cell)
	r /= Cell
	for y := max(0, math.Ceil(q.Y-r-0.5)); y < float64(s.rows) && y+0.5 <= q.Y+r; y++ {
		s.b.Step()
		half := math.Sqrt(max(0, r*r-(y+0.5-q.Y)*(y+0.5-q.Y)))
		for x := max(0, math.Ceil(q.X-half-0.5)); x < float64(s.cols) && x+0.5 <= q.X+half; x++ {
			if !f(int(y)*s.cols + int(x)) {
				return false
			}
		}
	}
	return true
}

// halfDiagonal is how far a point of a cell is from its middle at most, in pixels: discs
// that overlap share a cell whose middle is no farther off both.
const halfDiagonal = 0.71 * Cell

// Free reports whether a disc stands on nothing.
func (s *Spots) Free(q geometry.Point, r float64) bool {
	return s.disc(q, r+halfDiagonal, func(i int) bool { return !s.busy[i] })
}

// Lonely reports whether no mark stands within r of a point.
func (s *Spots) Lonely(q geometry.Point, r float64) bool {
	return s.FreeLine(q, q) && s.Cells(q, r, func(i int) bool { return !s.busy[i] })
}

// Within reports whether a disc lies in the region with the number.
func (s *Spots) Within(q geometry.Point, r float64, number int) bool {
	return s.disc(q, r, func(i int) bool { return s.region[i] == int32(number) })
}

// Take keeps other marks off a disc.
func (s *Spots) Take(q geometry.Point, r float64) {
	s.Cells(q, r+halfDiagonal, func(i int) bool { s.busy[i] = true; return true })
}

// along calls f for the cells of a line until it returns false.
func (s *Spots) along(a, b geometry.Point, f func(i int) bool) bool {
	n := math.Ceil(a.Dist(b)/(Cell/2)) + 1
	s.b.Spend(1 + int(n)/16)
	for k := 0.0; k <= n; k++ {
		if i, ok := s.At(a.Lerp(b, k/n)); ok && !f(i) {
			return false
		}
	}
	return true
}

// TakeLine keeps other marks off a line.
func (s *Spots) TakeLine(a, b geometry.Point) {
	s.along(a, b, func(i int) bool { s.busy[i] = true; return true })
}

// FreeLine reports whether a line crosses no mark.
func (s *Spots) FreeLine(a, b geometry.Point) bool {
	return s.along(a, b, func(i int) bool { return !s.busy[i] })
}

// Run returns how far a line from q along dir stays in the region with the
// number, at most limit.
func (s *Spots) Run(q, dir geometry.Point, number int, limit float64) float64 {
	for d := 0.0; d < limit; d += Cell / 2 {
		if i, ok := s.At(q.Add(dir.Mul(d))); !ok || s.region[i] != int32(number) {
			return d
		}
	}
	return limit
}
