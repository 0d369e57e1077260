package nest

import (
	"math"
	"math/bits"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// cells is how many cells a raster has along its longer side.
const cells = 1000

// raster says which cells of a sheet are taken. A cell is taken where anything comes
// nearer to it than gap along both axes.
type raster struct {
	sheet  geometry.Box
	gap    float64
	nx, ny int
	dx, dy float64
	// next holds for each cell, row by row, a column from which on to look for the next
	// one that is free: its own where it is.
	next []int16
	// free counts the free cells of each square of tile by tile cells, so that lines
	// which lie among taken cells only are passed over.
	free []int32
}

// tile is how many cells a square of them has along each side.
const tile = 16

func newRaster(sheet geometry.Box, gap float64) *raster {
	size := math.Max(sheet.Width(), sheet.Height()) / cells
	r := &raster{sheet: sheet, gap: gap}
	r.nx, r.ny = int(math.Ceil(sheet.Width()/size)), int(math.Ceil(sheet.Height()/size))
	r.dx, r.dy = sheet.Width()/float64(r.nx), sheet.Height()/float64(r.ny)
	r.next = make([]int16, (r.nx+1)*r.ny)
	r.free = make([]int32, r.tiles(r.nx)*r.tiles(r.ny))
	for j := range r.ny {
		row := r.rowOf(j)
		for i := range row {
			row[i] = int16(i)
		}
		for i := range r.nx {
			r.free[r.tileOf(i, j)]++
		}
	}
	return r
}

// tiles returns how many tiles hold n cells side by side.
func (r *raster) tiles(n int) int { return (n + tile - 1) / tile }

func (r *raster) tileOf(i, j int) int { return j/tile*r.tiles(r.nx) + i/tile }

// full reports whether no cell is free in the tiles of row j between two columns.
func (r *raster) full(i0, i1, j int) bool {
	for t := r.tileOf(i0, j); t <= r.tileOf(i1, j); t++ {
		if r.free[t] > 0 {
			return false
		}
	}
	return true
}

// mark takes the cells of all outlines: those that edges come near, and those that
// lie within a closed one, which are all the others. Edges are taken far from each
// other first: of many beside each other most then lie among taken cells only.
func (r *raster) mark(b *budget.Budget, all []Outline) {
	apart(len(all), func(i int) {
		apart(all[i].sides(), func(k int) { r.markEdge(b, all[i].Points[k], all[i].Points[(k+1)%len(all[i].Points)]) })
	})
	for _, o := range all {
		if o.Closed && len(o.Points) >= 3 {
			r.markInside(b, o)
		}
	}
}

// apart calls do for 0…n−1 in the order of their digits to the base 2 from the lowest,
// so that each is far from those just before it.
func apart(n int, do func(int)) {
	digits := bits.Len(uint(max(n-1, 0)))
	for k := range uint64(1) << digits {
		if i := int(bits.Reverse64(k) >> (64 - digits)); i < n {
			do(i)
		}
	}
}

// markEdge takes the cells that the edge from p to q comes near, row by row.
func (r *raster) markEdge(b *budget.Budget, p, q geometry.Point) {
	if p.Y > q.Y {
		p, q = q, p
	}
	last := r.row(q.Y + r.gap)
	for j := r.row(p.Y - r.gap); j <= last; {
		end := min(j-j%tile+tile-1, last)
		b.Step()
		if x0, x1, any := r.near(p, q, j, end); any && !r.full(r.column(x0-r.dx), r.column(x1+r.dx), j) {
			for ; j <= end; j++ {
				if x0, x1, any := r.near(p, q, j, j); any {
					r.markRow(b, j, x0, x1)
				}
			}
		}
		j = end + 1
	}
}

// near returns between which x the part of the edge from p up to q that comes near
// rows j to end takes cells, and whether any does.
func (r *raster) near(p, q geometry.Point, j, end int) (x0, x1 float64, any bool) {
	low, high := r.sheet.Min.Y+float64(j)*r.dy-r.gap, r.sheet.Min.Y+float64(end+1)*r.dy+r.gap
	if low > q.Y || high < p.Y {
		return 0, 0, false
	}
	x0, x1 = p.X, q.X
	if q.Y > p.Y {
		x0 = p.X + (q.X-p.X)*(math.Max(low, p.Y)-p.Y)/(q.Y-p.Y)
		x1 = p.X + (q.X-p.X)*(math.Min(high, q.Y)-p.Y)/(q.Y-p.Y)
	}
	return math.Min(x0, x1) - r.gap, math.Max(x0, x1) + r.gap, true
}

// markRow takes the cells of a row from x0 to x1, as far as these are on the sheet.
func (r *raster) markRow(b *budget.Budget, j int, x0, x1 float64) {
	if x1 < r.sheet.Min.X || x0 > r.sheet.Max.X {
		return
	}
	i0, i1 := r.column(x0), r.column(x1)
	b.Spend(1 + (i1-i0)/64)
	row := r.rowOf(j)
	for i := nextFree(row, i0); i <= i1; i = nextFree(row, i) {
		r.take(row, i, j)
	}
}

// rowOf returns the next columns of the cells of a row, with one beyond the last, which
// stays free.
func (r *raster) rowOf(j int) []int16 { return r.next[j*(r.nx+1) : (j+1)*(r.nx+1)] }

// nextFree returns the first free column of a row from i on, and shortens the way to it.
func nextFree(row []int16, i int) int {
	for int(row[i]) != i {
		row[i] = row[row[i]]
		i = int(row[i])
	}
	return i
}

// take takes a free cell.
func (r *raster) take(row []int16, i, j int) {
	row[i] = int16(i + 1)
	r.free[r.tileOf(i, j)]--
}

// row returns the row that y lies in, the nearest one beyond the sheet.
func (r *raster) row(y float64) int {
	return min(max(int(math.Floor((y-r.sheet.Min.Y)/r.dy)), 0), r.ny-1)
}

func (r *raster) column(x float64) int {
	return min(max(int(math.Floor((x-r.sheet.Min.X)/r.dx)), 0), r.nx-1)
}

func (r *raster) middle(j int) float64 { return r.sheet.Min.Y + (float64(j)+0.5)*r.dy }

// largest returns the largest rectangle of free cells: for each row the largest in
// the histogram of free cells that end there, with a stack of rising columns.
func (r *raster) largest(b *budget.Budget) geometry.Box {
	type column struct{ at, height int }
	heights := make([]int, r.nx+1)
	best, area := geometry.EmptyBox(), 0
	var rising []column
	for j := range r.ny {
		b.Spend(r.nx)
		row := r.rowOf(j)
		rising = rising[:0]
		for i := 0; i <= r.nx; i++ {
			switch {
			case i == r.nx:
			case int(row[i]) != i:
				heights[i] = 0
			default:
				heights[i]++
			}
			at := i
			for n := len(rising); n > 0 && rising[n-1].height >= heights[i]; n = len(rising) {
				top := rising[n-1]
				rising = rising[:n-1]
				if a := top.height * (i - top.at); a > area {
					area = a
					best = r.box(top.at, j+1-top.height, i, j+1)
				}
				at = top.at
			}
			rising = append(rising, column{at, heights[i]})
		}
	}
	return best
}

// box returns the cells from column i0 and row j0 up to i1 and j1.
func (r *raster) box(i0, j0, i1, j1 int) geometry.Box {
	return geometry.Box{
		Min: geometry.Pt(r.sheet.Min.X+float64(i0)*r.dx, r.sheet.Min.Y+float64(j0)*r.dy),
		Max: geometry.Pt(r.sheet.Min.X+float64(i1)*r.dx, r.sheet.Min.Y+float64(j1)*r.dy),
	}
}
