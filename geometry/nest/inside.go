package nest

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// run is free cells of one row beside each other, with those of the row before that
// they hang together with.
type run struct {
	row, from, to int
	first         int // the run that hangs together with it and comes first
	within        bool
}

// markInside takes the free cells that lie within a closed outline whose edges were
// marked. No edge touches a free cell, so that all of those that hang together lie
// within it or none: one row tells.
func (r *raster) markInside(b *budget.Budget, o Outline) {
	runs := r.freeRuns(b, geometry.BoxAround(o.Points...))
	var rows []int // in which runs come first
	for i := range runs {
		if n := len(rows); runs[i].first == i && (n == 0 || rows[n-1] != runs[i].row) {
			rows = append(rows, runs[i].row)
		}
	}
	meets := r.meets(b, o, rows)
	for i := range runs {
		b.Step()
		run := &runs[i]
		if run.first < i {
			run.within = runs[run.first].within
		} else {
			at, _ := slices.BinarySearch(rows, run.row)
			before, _ := slices.BinarySearch(meets[at], r.sheet.Min.X+(float64(run.from)+0.5)*r.dx)
			run.within = before%2 == 1
		}
		for x := run.from; run.within && x < run.to; x++ {
			r.take(r.rowOf(run.row), x, run.row)
		}
	}
}

// freeRuns lists the free cells of a box run by run and row by row.
func (r *raster) freeRuns(b *budget.Budget, box geometry.Box) []run {
	from, to := r.column(box.Min.X), r.column(box.Max.X)+1
	var runs []run
	above := 0 // the first run of the row before that may touch
	for j := r.row(box.Min.Y); j <= r.row(box.Max.Y); j++ {
		start := len(runs)
		row := r.rowOf(j)
		b.Spend(1 + (to-from)/64)
		if r.full(from, to-1, j) {
			above = start
			continue
		}
		for i := nextFree(row, from); i < to; i = nextFree(row, i) {
			one := run{row: j, from: i, first: len(runs)}
			for i < to && int(row[i]) == i {
				i++
			}
			one.to = i
			for above < start && runs[above].to <= one.from {
				above++
			}
			if above < start && runs[above].from < one.to {
				one.first = runs[above].first
			}
			runs = append(runs, one)
		}
		above = start
	}
	return runs
}

// meets returns where the edges of an outline meet the middles of some rows, from the
// left.
func (r *raster) meets(b *budget.Budget, o Outline, rows []int) [][]float64 {
	meets := make([][]float64, len(rows))
	if len(rows) == 0 {
		return meets
	}
	o.edges(func(p, q geometry.Point) {
		if p.Y > q.Y {
			p, q = q, p
		}
		k, _ := slices.BinarySearch(rows, r.row(p.Y))
		for ; k < len(rows) && rows[k] <= r.row(q.Y); k++ {
			b.Step()
			if y := r.middle(rows[k]); p.Y <= y && y < q.Y {
				meets[k] = append(meets[k], p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y))
			}
		}
	})
	for _, xs := range meets {
		slices.Sort(xs)
	}
	return meets
}
