package layout

import (
	"slices"

	"knifedesk/geometry"
)

// leastOffcut is the shorter side from which a remainder is worth keeping, in
// mm (common practice, no source).
const leastOffcut = 50

// largestOffcut returns the rectangle of greatest area on the load that stays
// gap away from every copy, and whether it is worth keeping. It may reach the
// edges of the stock: an offcut is trimmed by hand, without margins.
func largestOffcut(load Load, gap float64) (geometry.Box, bool) {
	whole := geometry.Box{Max: geometry.Pt(load.WidthMM, load.LengthMM)}
	xs, ys := []float64{0, load.WidthMM}, []float64{0, load.LengthMM}
	var taken []geometry.Box
	for _, p := range load.Placements {
		b := p.Bounds.Grow(gap)
		b.Min = geometry.Pt(max(b.Min.X, 0), max(b.Min.Y, 0))
		b.Max = geometry.Pt(min(b.Max.X, whole.Max.X), min(b.Max.Y, whole.Max.Y))
		taken = append(taken, b)
		xs, ys = append(xs, b.Min.X, b.Max.X), append(ys, b.Min.Y, b.Max.Y)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	xs, ys = slices.Compact(xs), slices.Compact(ys)
	best := geometry.EmptyBox()
	free := freeCells(xs, ys, taken)
	heights := make([]float64, len(xs)-1)
	for j := range len(ys) - 1 {
		for i := range heights {
			if free[j][i] {
				heights[i] += ys[j+1] - ys[j]
			} else {
				heights[i] = 0
			}
		}
		best = larger(best, underSkyline(xs, heights, ys[j+1]))
	}
	return best, best.Width() >= leastOffcut && best.Height() >= leastOffcut
}

// freeCells marks the cells of the grid that no box covers, row by row.
func freeCells(xs, ys []float64, taken []geometry.Box) [][]bool {
	free := make([][]bool, len(ys)-1)
	for j := range free {
		free[j] = make([]bool, len(xs)-1)
		for i := range free[j] {
			free[j][i] = true
		}
	}
	for _, b := range taken {
		i0, _ := slices.BinarySearch(xs, b.Min.X)
		i1, _ := slices.BinarySearch(xs, b.Max.X)
		j0, _ := slices.BinarySearch(ys, b.Min.Y)
		j1, _ := slices.BinarySearch(ys, b.Max.Y)
		for j := j0; j < j1; j++ {
			for i := i0; i < i1; i++ {
				free[j][i] = false
			}
		}
	}
	return free
}

// underSkyline returns the largest box that ends at y and lies within columns
// between xs of the given heights: the largest rectangle in a histogram, with
// a stack of rising columns.
func underSkyline(xs, heights []float64, y float64) geometry.Box {
	type column struct{ x, height float64 }
	best := geometry.EmptyBox()
	var rising []column
	for i := 0; i <= len(heights); i++ {
		h := 0.0
		if i < len(heights) {
			h = heights[i]
		}
		x := xs[i]
		for n := len(rising); n > 0 && rising[n-1].height >= h; n = len(rising) {
			top := rising[n-1]
			rising = rising[:n-1]
			best = larger(best, geometry.Box{Min: geometry.Pt(top.x, y-top.height), Max: geometry.Pt(xs[i], y)})
			x = top.x
		}
		rising = append(rising, column{x, h})
	}
	return best
}

func larger(a, b geometry.Box) geometry.Box {
	if b.Width()*b.Height() > a.Width()*a.Height()*(1+1e-12) {
		return b
	}
	return a
}
