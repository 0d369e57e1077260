package nest

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Free returns the rectangle of greatest area on a sheet that stays gap, in mm,
// away from every one that is taken. It may reach the edges of the sheet. It is
// empty where nothing is free.
func Free(b *budget.Budget, sheet geometry.Box, gapMM float64, taken []geometry.Box) geometry.Box {
	xs, ys := []float64{sheet.Min.X, sheet.Max.X}, []float64{sheet.Min.Y, sheet.Max.Y}
	grown := make([]geometry.Box, len(taken))
	for i, t := range taken {
		b.Step()
		t = t.Grow(gapMM)
		t.Min = geometry.Pt(max(t.Min.X, sheet.Min.X), max(t.Min.Y, sheet.Min.Y))
		t.Max = geometry.Pt(min(t.Max.X, sheet.Max.X), min(t.Max.Y, sheet.Max.Y))
		grown[i] = t
		xs, ys = append(xs, t.Min.X, t.Max.X), append(ys, t.Min.Y, t.Max.Y)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	xs, ys = slices.Compact(xs), slices.Compact(ys)
	best := geometry.EmptyBox()
	free := freeCells(b, xs, ys, grown)
	heights := make([]float64, len(xs)-1)
	for j := range len(ys) - 1 {
		b.Spend(len(xs))
		for i := range heights {
			if free[j][i] {
				heights[i] += ys[j+1] - ys[j]
			} else {
				heights[i] = 0
			}
		}
		best = larger(best, underSkyline(xs, heights, ys[j+1]))
	}
	return best
}

// freeCells marks the cells between the lines xs and ys that no box covers, row
// by row.
func freeCells(b *budget.Budget, xs, ys []float64, taken []geometry.Box) [][]bool {
	free := make([][]bool, len(ys)-1)
	for j := range free {
		b.Spend(len(xs))
		free[j] = make([]bool, len(xs)-1)
		for i := range free[j] {
			free[j][i] = true
		}
	}
	for _, t := range taken {
		i0, _ := slices.BinarySearch(xs, t.Min.X)
		i1, _ := slices.BinarySearch(xs, t.Max.X)
		j0, _ := slices.BinarySearch(ys, t.Min.Y)
		j1, _ := slices.BinarySearch(ys, t.Max.Y)
		for j := j0; j < j1; j++ {
			b.Spend(1 + i1 - i0)
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

// larger returns the box of greater area, a where they are as good as equal.
func larger(a, b geometry.Box) geometry.Box {
	if b.Width()*b.Height() > a.Width()*a.Height()*(1+1e-12) {
		return b
	}
	return a
}
