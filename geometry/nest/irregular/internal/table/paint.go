package table

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/outline"
)

// polygons returns the convex polygons in which the ways lie at which o and p
// overlap, the largest first.
func polygons(b *budget.Budget, o, p *outline.Outline) [][]outline.Point {
	all := make([][]outline.Point, 0, len(o.Parts)*len(p.Parts))
	for _, part := range o.Parts {
		for _, other := range p.Parts {
			b.Step()
			all = append(all, differ(part, other))
		}
	}
	slices.SortStableFunc(all, func(p, q []outline.Point) int { return cmp.Compare(double(q), double(p)) })
	return all
}

// line is a side of a polygon over the whole table, in cells.
type line struct{ nx, ny, c float64 }

// mark is that a polygon cuts a cell with so many sides.
type mark struct{ cell, first, count int32 }

// painter fills the cells of a table.
type painter struct {
	*Table
	x, y, give float64
	lines      []line // of the polygon that is being painted
	marks      []mark
	sides      []side // of all marks, in their order
}

// paint sets the cells by polygons, each of which is drawn in by give; the least
// way of all begins (x, y) before that of no length.
func (t *Table) paint(b *budget.Budget, all [][]outline.Point, x, y, give float64) {
	for i := range t.cells {
		t.cells[i] = apart
	}
	p := painter{Table: t, x: x, y: y, give: give}
	for _, ring := range all {
		b.Spend(cells)
		p.begin(ring)
		for row := range cells {
			p.row(row)
		}
	}
	p.gather()
}

// begin takes the sides of a polygon.
func (p *painter) begin(ring []outline.Point) {
	p.lines = p.lines[:0]
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		nx, ny := float64(a.Y-b.Y), float64(b.X-a.X)
		d := math.Sqrt(float64(nx*nx) + float64(ny*ny))
		nx, ny = nx/d, ny/d
		c := float64(nx*(float64(a.X)+p.x)) + float64(ny*(float64(a.Y)+p.y)) + p.give
		p.lines = append(p.lines, line{nx / p.perX, ny / p.perY, c})
	}
}

// row marks the cells of a row that the polygon meets: those that it covers, and
// those that its sides cut.
func (p *painter) row(row int) {
	low, high := 0.0, float64(cells)      // columns that it may reach
	from, to := math.Inf(-1), math.Inf(1) // between these it covers all
	for _, l := range p.lines {
		least := min(float64(l.ny*float64(row)), float64(l.ny*float64(row+1)))
		most := max(float64(l.ny*float64(row)), float64(l.ny*float64(row+1)))
		switch {
		case l.nx > 0:
			low, from = max(low, (l.c-most)/l.nx), max(from, (l.c-least)/l.nx)
		case l.nx < 0:
			high, to = min(high, (l.c-most)/l.nx), min(to, (l.c-least)/l.nx)
		case most < l.c:
			return
		case least < l.c:
			to = math.Inf(-1)
		}
	}
	for column := int(low); column < cells && float64(column) < high; column++ {
		at := &p.cells[row*cells+column]
		switch {
		case *at == inner:
		case float64(column) >= from && float64(column+1) <= to:
			*at = inner
		default:
			p.cut(column, row)
		}
	}
}

// cut marks a cell that not all of the polygon's sides leave whole.
func (p *painter) cut(column, row int) {
	first := len(p.sides)
	for _, l := range p.lines {
		c := l.c - float64(l.nx*float64(column)) - float64(l.ny*float64(row))
		if max(0, l.nx)+max(0, l.ny) <= c {
			p.sides = p.sides[:first] // all of the cell lies outside
			return
		}
		if min(0, l.nx)+min(0, l.ny) < c {
			p.sides = append(p.sides, side{nx: float32(l.nx), ny: float32(l.ny), c: float32(c)})
		}
	}
	at := int32(row*cells + column)
	if len(p.sides) == first {
		p.cells[at] = inner
		return
	}
	p.sides[len(p.sides)-1].last = ofPolygon
	p.marks = append(p.marks, mark{at, int32(first), int32(len(p.sides) - first)})
}

// gather puts the sides of each cell that is cut behind each other, without the
// polygons that another one covers there.
func (p *painter) gather() {
	marks := slices.DeleteFunc(p.marks, func(m mark) bool { return p.cells[m.cell] == inner })
	slices.SortStableFunc(marks, func(a, b mark) int { return cmp.Compare(a.cell, b.cell) })
	var all []side
	for len(marks) > 0 {
		cell := marks[0].cell
		n := 1
		for n < len(marks) && marks[n].cell == cell {
			n++
		}
		begin := len(all)
		for _, list := range needed(p.sidesOf(marks[:n])) {
			all = append(all, list...)
		}
		if len(all) > begin {
			p.cells[cell] = int32(begin)
			all[len(all)-1].last = ofCell
		}
		marks = marks[n:]
	}
	p.Table.sides = slices.Clip(all)
}

func (p *painter) sidesOf(marks []mark) [][]side {
	lists := make([][]side, len(marks))
	for i, m := range marks {
		lists[i] = p.sides[m.first : m.first+m.count]
	}
	return lists
}
