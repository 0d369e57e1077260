package planar

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// locator answers what lies below a point. Within each strip, edges are filed
// in cells of y, bounded so that about the same number of edges begins in each.
type locator struct {
	m      *Map
	strips strips
	cells  []stripCells
}

// stripCells are the cells of one strip. Cell j holds the edges
// list[start[j]:start[j+1]] and covers bound[j] ≤ y < bound[j+1], the first
// and the last without a limit.
type stripCells struct {
	bound []int32
	start []int32
	list  []int32
}

// perCell is the number of edges that begin in a cell.
const perCell = 4

// locateBalance is the constant of stripsFor for filing edges.
const locateBalance = 0.5

// newLocator files all edges of m that are not upright.
func newLocator(b *budget.Budget, m *Map) *locator {
	l := &locator{m: m}
	var lines []segment
	var edges []int32
	b.Spend(len(m.Edges))
	for i := range m.Edges {
		if s, _ := l.rightward(int32(i)); s.a.x < s.b.x {
			lines = append(lines, s)
			edges = append(edges, int32(i))
		}
	}
	if len(lines) == 0 {
		return l
	}
	l.strips = stripsFor(b, lines, locateBalance)
	start, ids := l.strips.fill(b, lines)
	l.cells = make([]stripCells, l.strips.count())
	inParts(b, len(l.cells), 8, func(b *budget.Budget, _, from, to int) {
		w := sweeper{budget: b}
		for k := from; k < to; k++ {
			w.load(lines, ids[start[k]:start[k+1]], l.strips.bounds[k], l.strips.bounds[k+1], level)
			l.cells[k].file(b, w.items, edges)
		}
	})
	return l
}

// rightward returns the edge's line from left to right, and the side of the
// edge that is up.
func (l *locator) rightward(edge int32) (segment, HalfEdge) {
	e := &l.m.Edges[edge]
	a, b := l.m.nodes[e.From], l.m.nodes[e.To]
	if b.before(a) {
		return segment{b, a}, HalfEdge(2*edge + 1)
	}
	return segment{a, b}, HalfEdge(2 * edge)
}

// file puts the items, sorted by lo, into cells.
func (c *stripCells) file(b *budget.Budget, items []item, edges []int32) {
	c.divide(b, items)
	c.start = make([]int32, len(c.bound)+2)
	b.Spend(2 * perCell * len(items)) // what divide allows to be filed, twice
	c.eachCell(items, func(j int, _ int32) { c.start[j+2]++ })
	accumulate(c.start)
	c.list = make([]int32, c.start[len(c.start)-1])
	c.eachCell(items, func(j int, id int32) {
		c.list[c.start[j+1]] = edges[id]
		c.start[j+1]++
	})
	c.start = c.start[:len(c.bound)+1]
}

// divide chooses the bounds so that perCell edges begin in a cell, or more
// where edges are tall and would be filed in many.
func (c *stripCells) divide(b *budget.Budget, items []item) {
	for step := perCell; ; {
		b.Spend(len(items))
		c.bound = c.bound[:0]
		for i := 0; i < len(items); i += step {
			if n := len(c.bound); n == 0 || items[i].lo > c.bound[n-1] {
				c.bound = append(c.bound, items[i].lo)
			}
		}
		filed := 0
		for i := range items {
			filed += c.cell(items[i].hi) - c.cell(items[i].lo) + 1
		}
		if filed <= perCell*len(items) {
			return
		}
		step *= 1 + filed/(perCell*len(items))
	}
}

// eachCell calls do for every cell that an item reaches.
func (c *stripCells) eachCell(items []item, do func(cell int, id int32)) {
	first := 0
	for i := range items {
		for first+1 < len(c.bound) && c.bound[first+1] <= items[i].lo {
			first++
		}
		do(first, items[i].id)
		for j := first + 1; j < len(c.bound) && c.bound[j] <= items[i].hi; j++ {
			do(j, items[i].id)
		}
	}
}

// below returns the upper side of the first edge straight below the point
// that lies just left of p, or −1 if there is none. Edges through p do not
// count as below it. It looks at no more than the given number of edges; done
// is false where that is not enough.
func (l *locator) below(b *budget.Budget, p node, effort int) (upper HalfEdge, done bool) {
	if l.cells == nil || p.x < l.strips.bounds[0] || p.x >= l.strips.bounds[len(l.cells)] {
		return -1, true
	}
	c := &l.cells[l.strips.at(p.x)]
	best, upper := segment{}, HalfEdge(-1)
	for j := c.cell(p.y); j >= 0; j-- {
		list := c.list[c.start[j]:c.start[j+1]]
		b.Spend(1 + len(list))
		if effort -= len(list); effort < 0 {
			return -1, false
		}
		for _, edge := range list {
			s, up := l.rightward(edge)
			if s.a.x >= p.x || s.b.x < p.x || cross(s.a, s.b, p) <= 0 {
				continue
			}
			if upper < 0 || s.above(best) {
				best, upper = s, up
			}
		}
		// An edge of this cell can be lower than one that ends in a cell below.
		if upper >= 0 && cross(best.a, best.b, node{p.x, c.bound[j]}) <= 0 {
			break
		}
	}
	return upper, true
}

// cell returns the cell that holds y, or −1 below the first bound.
func (c *stripCells) cell(y int32) int {
	lo, hi := 0, len(c.bound)
	for lo < hi {
		if mid := (lo + hi) / 2; c.bound[mid] <= y {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo - 1
}

// above reports whether s runs above t where both have the same x. They are
// different edges of one map, run rightward, and share a stretch of x.
func (s segment) above(t segment) bool {
	switch {
	case s.a.x > t.a.x:
		return cross(t.a, t.b, s.a) > 0
	case s.a.x < t.a.x:
		return cross(s.a, s.b, t.a) < 0
	case s.a.y != t.a.y:
		return s.a.y > t.a.y
	}
	return cross(t.a, t.b, s.b) > 0
}

// FaceAt returns the face that holds p, rounded to the grid. A point on an
// edge counts to the face below it, or to the left of an upright one.
func (m *Map) FaceAt(b *budget.Budget, p geometry.Point) int32 {
	if !p.Finite() || !m.grid.holds(p) {
		return 0
	}
	if h, _ := m.locate(b).below(b, m.grid.node(p), math.MaxInt); h >= 0 {
		return m.Face(h)
	}
	return 0
}

// locate returns the locator of the map, which the first to ask makes. Where
// that one is stopped, the next makes it.
func (m *Map) locate(b *budget.Budget) *locator {
	m.locating.Lock()
	defer m.locating.Unlock()
	if m.locator == nil {
		m.locator = newLocator(b, m)
	}
	return m.locator
}
