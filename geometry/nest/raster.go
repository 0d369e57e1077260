package nest

import (
	"math"
	"slices"

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
	taken  []bool
}

func newRaster(sheet geometry.Box, gap float64) *raster {
	size := math.Max(sheet.Width(), sheet.Height()) / cells
	r := &raster{sheet: sheet, gap: gap}
	r.nx, r.ny = int(math.Ceil(sheet.Width()/size)), int(math.Ceil(sheet.Height()/size))
	r.dx, r.dy = sheet.Width()/float64(r.nx), sheet.Height()/float64(r.ny)
	r.taken = make([]bool, r.nx*r.ny)
	return r
}

// mark takes the cells of an outline: those that its edges come near, and those
// whose middle lies within it, which are all the others.
func (r *raster) mark(b *budget.Budget, o Outline) {
	o.edges(func(p, q geometry.Point) { r.markEdge(b, p, q) })
	if !o.Closed || len(o.Points) < 3 {
		return
	}
	box := geometry.BoxAround(o.Points...)
	from := r.row(box.Min.Y)
	rows := make([][]float64, max(0, r.row(box.Max.Y)-from+1))
	o.edges(func(p, q geometry.Point) {
		if p.Y > q.Y {
			p, q = q, p
		}
		first := max(r.row(p.Y), from)
		for j := first; j <= r.row(q.Y) && j-from < len(rows); j++ {
			b.Step()
			if y := r.middle(j); p.Y <= y && y < q.Y {
				rows[j-from] = append(rows[j-from], p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y))
			}
		}
	})
	for k, xs := range rows {
		slices.Sort(xs)
		for i := 1; i < len(xs); i += 2 {
			r.markRow(b, from+k, xs[i-1], xs[i])
		}
	}
}

// markEdge takes the cells that the edge from p to q comes near, row by row.
func (r *raster) markEdge(b *budget.Budget, p, q geometry.Point) {
	if p.Y > q.Y {
		p, q = q, p
	}
	for j := r.row(p.Y - r.gap); j <= r.row(q.Y+r.gap); j++ {
		low, high := r.sheet.Min.Y+float64(j)*r.dy-r.gap, r.sheet.Min.Y+float64(j+1)*r.dy+r.gap
		if low > q.Y || high < p.Y {
			continue
		}
		x0, x1 := p.X, q.X
		if q.Y > p.Y {
			x0 = p.X + (q.X-p.X)*(math.Max(low, p.Y)-p.Y)/(q.Y-p.Y)
			x1 = p.X + (q.X-p.X)*(math.Min(high, q.Y)-p.Y)/(q.Y-p.Y)
		}
		r.markRow(b, j, math.Min(x0, x1)-r.gap, math.Max(x0, x1)+r.gap)
	}
}

// markRow takes the cells of a row from x0 to x1, as far as these are on the sheet.
func (r *raster) markRow(b *budget.Budget, j int, x0, x1 float64) {
	if x1 < r.sheet.Min.X || x0 > r.sheet.Max.X {
		return
	}
	i0, i1 := r.column(x0), r.column(x1)
	b.Spend(1 + (i1-i0)/64)
	for i := j*r.nx + i0; i <= j*r.nx+i1; i++ {
		r.taken[i] = true
	}
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
		rising = rising[:0]
		for i := 0; i <= r.nx; i++ {
			switch {
			case i == r.nx:
			case r.taken[j*r.nx+i]:
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
