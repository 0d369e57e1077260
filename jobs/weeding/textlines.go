package weeding

import (
	"math"
	"math/bits"

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
	cells  []crowded
	slots  []int32      // a table with open addressing: one more than the place in cells; 0: none
	levels map[int]bool // at which any figure is kept
}

// crowded is a cell with the figures that it keeps.
type crowded struct {
	cell
	n       int
	figures [mostIn]int32
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

func newCrowd(b *budget.Budget, all []figure) *crowd {
	c := &crowd{b, nil, make([]int32, 1<<bits.Len(uint(4*len(all)))), map[int]bool{}}
	for i, f := range all {
		level := levelOf(f.Box)
		c.levels[level] = true
		c.each(f.Box, level, func(at cell) {
			if one := c.made(at); one.n < mostIn {
				one.figures[one.n] = int32(i)
				one.n++
			}
		})
	}
	return c
}

// slot returns where a cell is in the table, or would be put.
func (c *crowd) slot(at cell) int {
	h := scatter(scatter(scatter(uint64(at.level))+uint64(at.x)) + uint64(at.y))
	for i := int(h) & (len(c.slots) - 1); ; i = (i + 1) & (len(c.slots) - 1) {
		if k := c.slots[i]; k == 0 || c.cells[k-1].cell == at {
			return i
		}
	}
}

// made returns a cell, which it makes where there is none.
func (c *crowd) made(at cell) *crowded {
	if 2*len(c.cells) >= len(c.slots) {
		c.grow()
	}
	i := c.slot(at)
	if c.slots[i] == 0 {
		c.cells = append(c.cells, crowded{cell: at})
		c.slots[i] = int32(len(c.cells))
	}
	return &c.cells[c.slots[i]-1]
}

// grow makes the table twice as large.
func (c *crowd) grow() {
	c.slots = make([]int32, 2*len(c.slots))
	for k := range c.cells {
		c.budget.Step()
		c.slots[c.slot(c.cells[k].cell)] = int32(k + 1)
	}
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
func (c *crowd) eachNear(b geometry.Box, f func(i int)) {
	own := levelOf(b)
	for level := own; level <= own+levelsUp; level++ {
		if !c.levels[level] {
			continue
		}
		c.each(b.Grow(math.Ldexp(nextShare/2, level)), level, func(at cell) {
			k := c.slots[c.slot(at)]
			if k == 0 {
				return
			}
			one := &c.cells[k-1]
			c.budget.Spend(one.n)
			for _, i := range one.figures[:one.n] {
				f(int(i))
			}
		})
	}
}

// each calls f for the cells of a level that a box lies in.
func (c *crowd) each(b geometry.Box, level int, f func(cell)) {
	at := func(v float64) int { return int(math.Floor(math.Ldexp(v, -level))) }
	for x := at(b.Min.X); x <= at(b.Max.X); x++ {
		for y := at(b.Min.Y); y <= at(b.Max.Y); y++ {
			c.budget.Step()
			f(cell{level, x, y})
		}
	}
}
