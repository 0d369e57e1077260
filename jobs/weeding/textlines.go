package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/disjoint"
)

// linesOf gathers figures into lines of lettering.
func linesOf(b *budget.Budget, all []figure) []textline {
	c := newCrowd(b, all)
	s := disjoint.New(len(all))
	for i := range all {
		c.eachNear(all[i].Box, func(j int) {
			high, low := all[j], all[i]
			if low.Height() > high.Height() {
				high, low = low, high
			}
			if i != j && low.follows(high) {
				s.Join(i, j)
			}
		})
	}
	var out []textline
	for _, line := range s.All() {
		figures := make([]figure, len(line))
		for k, i := range line {
			figures[k] = all[i]
		}
		out = append(out, newTextline(b, figures))
	}
	return out
}

// crowd finds figures that may be neighbours: it keeps them on grids whose cells
// are as wide as figures of one height, to a factor of two, may lie apart.
type crowd struct {
	budget *budget.Budget
	cells  map[cell][]int
	levels map[int]bool // at which any figure is kept
}

// cell is a square of a grid; its side is 2 to the power of its level, in mm.
type cell struct {
	level int
	x, y  int
}

const (
	levelsUp = 4  // a mark beside a letter up to sixteen times its height
	mostIn   = 16 // figures that a cell keeps: letters of its size never crowd it
)

func newCrowd(b *budget.Budget, all []figure) crowd {
	c := crowd{b, map[cell][]int{}, map[int]bool{}}
	for i, f := range all {
		level := levelOf(f.Box)
		c.levels[level] = true
		c.each(f.Box, level, func(at cell) {
			if len(c.cells[at]) < mostIn {
				c.cells[at] = append(c.cells[at], i)
			}
		})
	}
	return c
}

// levelOf returns the level at which a figure is kept: its height is at most half
// the side of a cell, and over a quarter, but for what is far too wide for a letter.
func levelOf(b geometry.Box) int {
	const widest = 32 // times its height
	_, exp := math.Frexp(math.Max(b.Height(), b.Width()/widest))
	return exp + 1
}

// eachNear calls f for the figures that may be neighbours of one in b and are no
// lower than half its height, some more than once.
func (c crowd) eachNear(b geometry.Box, f func(i int)) {
	own := levelOf(b)
	for level := own; level <= own+levelsUp; level++ {
		if !c.levels[level] {
			continue
		}
		c.each(b.Grow(math.Ldexp(nextShare/2, level)), level, func(at cell) {
			for _, i := range c.cells[at] {
				c.budget.Step()
				f(i)
			}
		})
	}
}

// each calls f for the cells of a level that a box lies in.
func (c crowd) each(b geometry.Box, level int, f func(cell)) {
	at := func(v float64) int { return int(math.Floor(math.Ldexp(v, -level))) }
	for x := at(b.Min.X); x <= at(b.Max.X); x++ {
		for y := at(b.Min.Y); y <= at(b.Max.Y); y++ {
			c.budget.Step()
			f(cell{level, x, y})
		}
	}
}
