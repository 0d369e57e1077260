package weeding

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// punctuation is the share of the median height below which a figure is a
// stop, a comma or a hyphen, and not a low letter.
const punctuation = 0.4

// leastHeight returns the height of the lowest letter in mm, 0 for none. A dot
// or an accent counts together with the figure below or above it, when it lies
// over the same stretch of the line and is near enough.
func leastHeight(letters []geometry.Box) float64 {
	var heights []float64
	for _, b := range letters {
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

// lettering looks for letters among some cells.
type lettering struct {
	budget *budget.Budget
	*cells
}

// letters returns the boxes of the letters, with their dots and accents.
func (c lettering) letters() []geometry.Box { return c.gather(c.figures()) }

// figures returns the boxes of what is drawn on the outside or on a plate:
// letters, whether they are kept or cut out of a plate, but neither the plate
// nor bars nor what the letters hold.
func (c lettering) figures() []geometry.Box {
	var boxes []geometry.Box
	seen := make([]bool, len(c.Faces))
	seen[0] = true
	for todo := []int32{0}; len(todo) > 0; {
		f := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, child := range c.held(f) {
			switch {
			case seen[child]:
			case c.depth[child] == 0 || c.plate(child):
				todo = append(todo, child)
			case c.bar(child):
			default:
				boxes = append(boxes, c.box(c.budget, child))
			}
			seen[child] = true
		}
	}
	return boxes
}

// held returns the faces inside the holes of a face that bound it.
func (c lettering) held(face int32) []int32 {
	var held []int32
	for _, hole := range c.Holes(face) {
		c.budget.Spend(1 + len(c.HalfEdges(hole)))
		for _, h := range c.HalfEdges(hole) {
			if g := c.Face(h.Twin()); len(held) == 0 || held[len(held)-1] != g {
				held = append(held, g)
			}
		}
	}
	return held
}

// plateShare is the share of its convex hull that a plate fills: rectangles,
// with round corners or without, and ellipses fill all of it.
const plateShare = 0.97

// convex reports whether the outline of a face is convex, but for round-off.
func (c lettering) convex(face int32) bool {
	c.budget.Spend(len(c.HalfEdges(c.Faces[face].Outer)))
	pts := c.Points(c.Faces[face].Outer)
	return ringArea(pts) >= plateShare*ringArea(hull(c.budget, pts))
}

// bar reports whether a face is a rule or a dash, and no letter: convex, and
// wider than twice its height.
func (c lettering) bar(face int32) bool {
	b := c.box(c.budget, face)
	return b.Width() > 2*b.Height() && c.convex(face)
}

// plate reports whether a face carries figures: it is convex as far as its
// outline goes, and has three holes or more, where no letter has over two, or
// is a band round a face that has. Words joined in one piece have many holes
// too, and are not convex.
func (c lettering) plate(face int32) bool {
	if !c.convex(face) {
		return false
	}
	for range len(c.Faces) {
		c.budget.Step()
		switch holes := c.Holes(face); len(holes) {
		case 0, 2:
			return false
		case 1:
			face = c.Face(c.HalfEdges(holes[0])[0].Twin())
		default:
			return true
		}
	}
	return false
}

// gather joins dots to their stems.
func (c lettering) gather(boxes []geometry.Box) []geometry.Box {
	slices.SortFunc(boxes, func(a, b geometry.Box) int {
		c.budget.Step()
		return cmp.Compare(b.Height(), a.Height())
	})
	columns := newColumns(c.budget, boxes)
	gone := make([]bool, len(boxes))
	for i := range boxes {
		if !gone[i] {
			small := i + 1 + sort.Search(len(boxes)-i-1, func(k int) bool {
				return boxes[i+1+k].Height() <= punctuation*boxes[i].Height()
			})
			columns.each(boxes[i], small, func(j int) {
				c.budget.Step()
				if !gone[j] && belongs(boxes[i], boxes[j]) {
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

func newColumns(b *budget.Budget, boxes []geometry.Box) columns {
	all := geometry.EmptyBox()
	for _, box := range boxes {
		all = all.Union(box)
	}
	c := columns{min: all.Min.X, step: all.Width() / float64(len(boxes)+1), lists: make([][]int, len(boxes)+1)}
	if c.step == 0 {
		c.step = 1
	}
	for i, box := range boxes {
		from, to := c.span(box)
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

// hull returns the convex hull of the points, anticlockwise (Andrew's monotone
// chains, 1979).
func hull(b *budget.Budget, pts []geometry.Point) []geometry.Point {
	pts = slices.Clone(pts)
	slices.SortFunc(pts, func(p, q geometry.Point) int {
		b.Step()
		return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
	})
	chain := func() []geometry.Point {
		var half []geometry.Point
		for _, p := range pts {
			for n := len(half); n > 1 && half[n-1].Sub(half[n-2]).Cross(p.Sub(half[n-2])) <= 0; n-- {
				half = half[:n-1]
			}
			half = append(half, p)
		}
		return half[:len(half)-1]
	}
	lower := chain()
	slices.Reverse(pts)
	return append(lower, chain()...)
}
