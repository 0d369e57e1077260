package weeding

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// columns finds boxes by where they lie along x.
type columns struct {
	min, step float64
	lists     [][]int
}

func newColumns(b *budget.Budget, boxes []figure) columns {
	all := geometry.EmptyBox()
	for _, box := range boxes {
		all = all.Union(box.Box)
	}
	c := columns{min: all.Min.X, step: all.Width() / float64(len(boxes)+1), lists: make([][]int, len(boxes)+1)}
	if c.step == 0 {
		c.step = 1
	}
	for i, box := range boxes {
		from, to := c.span(box.Box)
		b.Spend(1 + to - from)
		for k := from; k <= to; k++ {
			c.lists[k] = append(c.lists[k], i)
		}
	}
	return c
}

func (c columns) span(b geometry.Box) (from, to int) {
	at := func(x float64) int { return max(0, min(len(c.lists)-1, int((x-c.min)/c.step))) }
	return at(b.Min.X), at(b.Max.X)
}

// each calls f for the boxes from number first on in the columns of b, some
// more than once.
func (c columns) each(b geometry.Box, first int, f func(i int)) {
	from, to := c.span(b)
	for k := from; k <= to; k++ {
		at, _ := slices.BinarySearch(c.lists[k], first)
		for _, i := range c.lists[k][at:] {
			f(i)
		}
	}
}
