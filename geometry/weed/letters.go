package weed

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// punctuation is the share of the median height below which a kept piece is
// a stop, a comma or a hyphen, and not a low letter.
const punctuation = 0.4

// leastHeight returns the height of the lowest letter among the kept regions,
// in mm, 0 for none. A dot or an accent counts together with the piece below
// or above it, when it lies over the same stretch of the line and no farther
// off than that piece is high.
func leastHeight(regions []Region) float64 {
	var heights []float64
	for _, b := range gatherLetters(regions) {
		heights = append(heights, b.Height())
	}
	if len(heights) == 0 {
		return 0
	}
	slices.Sort(heights)
	median := heights[len(heights)/2]
	for _, h := range heights {
		if h >= punctuation*median {
			return h
		}
	}
	return median
}

// gatherLetters returns the boxes of the kept pieces, dots joined to stems.
func gatherLetters(regions []Region) []geometry.Box {
	var boxes []geometry.Box
	for i := range regions {
		if regions[i].Kept() {
			boxes = append(boxes, regions[i].Outer.Bounds())
		}
	}
	slices.SortFunc(boxes, func(a, b geometry.Box) int { return cmp.Compare(b.Height(), a.Height()) })
	columns := newColumns(boxes)
	gone := make([]bool, len(boxes))
	for i := range boxes {
		if !gone[i] {
			columns.each(boxes[i], func(j int) {
				if j > i && !gone[j] && belongs(boxes[i], boxes[j]) {
					boxes[i], gone[j] = boxes[i].Union(boxes[j]), true
				}
			})
		}
	}
	var letters []geometry.Box
	for i, b := range boxes {
		if !gone[i] {
			letters = append(letters, b)
		}
	}
	return letters
}

// belongs reports whether the small piece lies above or below the stem, near
// enough and mostly within its width.
func belongs(stem, small geometry.Box) bool {
	if small.Height() > punctuation*stem.Height() {
		return false
	}
	gap := math.Max(small.Min.Y-stem.Max.Y, stem.Min.Y-small.Max.Y)
	overlap := math.Min(stem.Max.X, small.Max.X) - math.Max(stem.Min.X, small.Min.X)
	return gap >= 0 && gap <= punctuation*stem.Height() && overlap >= math.Min(stem.Width(), small.Width())/2
}

// columns finds boxes by where they lie along x.
type columns struct {
	min, step float64
	lists     [][]int
}

func newColumns(boxes []geometry.Box) columns {
	all := geometry.EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	c := columns{min: all.Min.X, step: all.Width() / float64(len(boxes)+1), lists: make([][]int, len(boxes)+1)}
	if c.step == 0 {
		c.step = 1
	}
	for i, b := range boxes {
		from, to := c.span(b)
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

// each calls f for the boxes in the columns of b, some more than once.
func (c columns) each(b geometry.Box, f func(i int)) {
	from, to := c.span(b)
	for k := from; k <= to; k++ {
		for _, i := range c.lists[k] {
			f(i)
		}
	}
}
