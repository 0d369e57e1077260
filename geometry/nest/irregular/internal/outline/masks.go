package outline

import "math/bits"

// cells is the number of columns, and of rows, into which a box is cut to find
// edges by place.
const cells = 8

// masks tells which edges reach into which columns and rows of the box: for
// each range of columns, and of rows, one bit for each edge.
type masks struct {
	words         int
	perX, perY    float64 // cells in a step
	columns, rows []uint64
}

func newMasks(edges []Edge, w, h float64) masks {
	m := masks{words: (len(edges) + 63) / 64, perX: cells / w, perY: cells / h}
	m.columns = make([]uint64, cells*cells*m.words)
	m.rows = make([]uint64, cells*cells*m.words)
	for i, e := range edges {
		fill(m.columns, m.words, i, cell(min(e.X0, e.X1)*m.perX), cell(max(e.X0, e.X1)*m.perX))
		fill(m.rows, m.words, i, cell(min(e.Y0, e.Y1)*m.perY), cell(max(e.Y0, e.Y1)*m.perY))
	}
	return m
}

// fill sets the bit of edge i in all ranges that meet the cells from low to high.
func fill(table []uint64, words, i, low, high int) {
	for from := range cells {
		for to := from; to < cells; to++ {
			if from <= high && to >= low {
				table[(from*cells+to)*words+i/64] |= 1 << (i % 64)
			}
		}
	}
}

// cell returns the cell at v cells from the first, the nearest for what lies
// outside.
func cell(v float64) int {
	if v <= 0 {
		return 0
	}
	return min(int(v), cells-1)
}

// slack is by how much edges may lie outside the box.
const slack = 8

// lesser and greater are min and max without their care for what is no number,
// which costs time.
func lesser(a, b float64) float64 {
	if a < b {
		return a
	}
	return b
}

func greater(a, b float64) float64 {
	if a > b {
		return a
	}
	return b
}

// Crosses reports whether the edges of p, which lies (dx, dy) from o, cross
// those of o.
func (o *Outline) Crosses(p *Outline, dx, dy float64) bool {
	// The window in which both boxes lie, seen from o.
	x0, x1 := greater(0, dx)-slack, lesser(o.W, dx+p.W)+slack
	y0, y1 := greater(0, dy)-slack, lesser(o.H, dy+p.H)+slack
	m := &o.masks
	columns := (cell(x0*m.perX)*cells + cell(x1*m.perX)) * m.words
	rows := (cell(y0*m.perY)*cells + cell(y1*m.perY)) * m.words
	for w := range m.words {
		found := m.columns[columns+w] & m.rows[rows+w]
		for ; found != 0; found &= found - 1 {
			e := &o.edges[w*64+bits.TrailingZeros64(found)]
			if e.X0 < x0 && e.X1 < x0 || e.X0 > x1 && e.X1 > x1 || e.Y0 < y0 && e.Y1 < y0 || e.Y0 > y1 && e.Y1 > y1 {
				continue
			}
			if p.meets(e.X0-dx, e.Y0-dy, e.X1-dx, e.Y1-dy) {
				return true
			}
		}
	}
	return false
}

// meets reports whether an edge of o crosses the line from (ax, ay) to (bx, by).
func (o *Outline) meets(ax, ay, bx, by float64) bool {
	m := &o.masks
	columns := (cell(lesser(ax, bx)*m.perX)*cells + cell(greater(ax, bx)*m.perX)) * m.words
	rows := (cell(lesser(ay, by)*m.perY)*cells + cell(greater(ay, by)*m.perY)) * m.words
	vx, vy := bx-ax, by-ay
	for w := range m.words {
		found := m.columns[columns+w] & m.rows[rows+w]
		for ; found != 0; found &= found - 1 {
			e := &o.edges[w*64+bits.TrailingZeros64(found)]
			s := float64(vx*(e.Y0-ay)) - float64(vy*(e.X0-ax))
			t := float64(vx*(e.Y1-ay)) - float64(vy*(e.X1-ax))
			if (s > 0) == (t > 0) {
				continue
			}
			ux, uy := e.X1-e.X0, e.Y1-e.Y0
			s = float64(ux*(ay-e.Y0)) - float64(uy*(ax-e.X0))
			t = float64(ux*(by-e.Y0)) - float64(uy*(bx-e.X0))
			if (s > 0) != (t > 0) {
				return true
			}
		}
	}
	return false
}

// holds reports whether the point lies in o: whether a ray to the right
// crosses an odd number of edges.
func (o *Outline) holds(x, y float64) bool {
	if x < 0 || y < 0 || x > o.W || y > o.H {
		return false
	}
	m := &o.masks
	row := cell(y * m.perY)
	columns := (cell(x*m.perX)*cells + cells - 1) * m.words
	rows := (row*cells + row) * m.words
	in := false
	for w := range m.words {
		found := m.columns[columns+w] & m.rows[rows+w]
		for ; found != 0; found &= found - 1 {
			e := &o.edges[w*64+bits.TrailingZeros64(found)]
			if (e.Y0 > y) == (e.Y1 > y) {
				continue
			}
			s := float64((e.X1-e.X0)*(y-e.Y0)) - float64((x-e.X0)*(e.Y1-e.Y0))
			if (s > 0) == (e.Y1 > e.Y0) {
				in = !in
			}
		}
	}
	return in
}
