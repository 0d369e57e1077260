// Package table looks up how two outlines overlap, by the way from one to the
// other, instead of comparing their sides and circles each time: a search asks
// the same of the same two shapes many thousand times.
//
// The ways at which two outlines overlap are the insides of convex polygons, one
// for each part of the one and part of the other (their no-fit polygon, as a
// union). A table cuts the box of all ways at which the boxes overlap into
// cells: in most the outlines overlap everywhere or nowhere, and the others keep
// the sides that cut them. How deep they overlap is kept at the corners of the
// cells, and taken from the four around.
package table

import (
	"math"
	"unsafe"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/outline"
)

// cells is into how many columns, and rows, the ways are cut.
const cells = 32

// What a cell that no side cuts is; others hold where their sides begin.
const (
	apart = -1
	inner = -2
)

// Table says how outlines o and p overlap. It does not change once made.
type Table struct {
	perX, perY float64 // cells in a step
	cells      [cells * cells]int32
	depths     [(cells + 1) * (cells + 1)]float32
	sides      []side
}

// side is a side of a convex polygon across a cell: x and y from the cell's
// lower left corner, in cells, lie within where nx·x + ny·y is not below c.
type side struct {
	nx, ny, c float32
	last      ending
}

// ending tells what a side is the last of.
type ending int32

const (
	goesOn    ending = iota
	ofPolygon        // and another follows in this cell
	ofCell
)

// New makes the table of two outlines. Of what overlaps by less than give steps
// it says that it does not.
func New(b *budget.Budget, o, p *outline.Outline, give float64) *Table {
	t := &Table{perX: cells / (o.W + p.W), perY: cells / (o.H + p.H)}
	t.paint(b, polygons(b, o, p), p.W, p.H, give)
	for i := range t.depths {
		column, row := i%(cells+1), i/(cells+1)
		if t.around(column, row) {
			b.Step()
			dx, dy := float64(column)/t.perX-p.W, float64(row)/t.perY-p.H
			t.depths[i] = float32(o.Depth(p, dx, dy, math.Inf(1)))
		}
	}
	return t
}

// around reports whether one of the cells around a corner is not apart.
func (t *Table) around(column, row int) bool {
	for y := max(0, row-1); y <= min(row, cells-1); y++ {
		for x := max(0, column-1); x <= min(column, cells-1); x++ {
			if t.cells[y*cells+x] != apart {
				return true
			}
		}
	}
	return false
}

// Bytes is what the table takes of memory.
func (t *Table) Bytes() int {
	return int(unsafe.Sizeof(*t)) + cap(t.sides)*int(unsafe.Sizeof(side{}))
}

// Depth tells how much the outlines overlap as outline.Depth does, and 0 where they
// do not; the middle of p's box lies (dx, dy) from that of o.
func (t *Table) Depth(dx, dy float64) float64 {
	x, y := float64(dx*t.perX)+cells/2, float64(dy*t.perY)+cells/2
	column, row := int(x), int(y)
	if uint(column) >= cells || uint(row) >= cells {
		return 0
	}
	at := t.cells[row*cells+column]
	if at == apart {
		return 0
	}
	u, v := float32(x-float64(column)), float32(y-float64(row))
	if at != inner && !within(t.sides[at:], u, v) {
		return 0
	}
	k := row*(cells+1) + column
	low := t.depths[k] + float32(u*(t.depths[k+1]-t.depths[k]))
	k += cells + 1
	high := t.depths[k] + float32(u*(t.depths[k+1]-t.depths[k]))
	return float64(low + float32(v*(high-low)))
}

// within reports whether a point lies in one of the polygons of a cell, whose
// sides are the first.
func within(sides []side, u, v float32) bool {
	in := true
	for i := range sides {
		s := &sides[i]
		if float32(s.nx*u)+float32(s.ny*v) < s.c {
			in = false
		}
		if s.last != goesOn {
			if in || s.last == ofCell {
				return in
			}
			in = true
		}
	}
	return in
}
