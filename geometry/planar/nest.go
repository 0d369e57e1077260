package planar

import (
	"slices"

	"knifedesk/geometry/budget"
)

// nest numbers the faces and puts every part of the drawing into the face
// that holds it.
//
// Each connected part has one cycle of no or negative area: its outside. Its
// leftmost vertex (lowest of those) sees, straight down, an edge of another
// part or nothing. The upper side of that edge belongs to the face that holds
// the part, or to the outside of a part that lies farther left and has been
// placed already.
func (c *cycles) nest(b *budget.Budget) {
	m := c.m
	c.face = make([]int32, len(c.area))
	m.Faces = append(make([]Face, 0, len(c.area)+1), Face{Outer: NoRing})
	var outsides []int32
	b.Spend(len(c.area))
	for i, area := range c.area {
		if area > 0 {
			c.face[i] = int32(len(m.Faces))
			m.Faces = append(m.Faces, Face{Outer: NoRing})
		} else {
			outsides = append(outsides, int32(i))
		}
	}
	c.place(b, outsides)
	b.Spend(len(c.area) + len(m.Edges))
	net := make([]int64, len(m.Faces))
	for i, area := range c.area {
		net[c.face[i]] += area
	}
	for f := 1; f < len(net); f++ {
		m.Faces[f].Area = float64(net[f]) / (2 * PerMM * PerMM)
	}
	for i := range m.Edges {
		e := &m.Edges[i]
		e.Left, e.Right = c.face[e.Left], c.face[e.Right]
	}
}

// place finds the face of each outside.
func (c *cycles) place(b *budget.Budget, outsides []int32) {
	if len(outsides) < 2 {
		return
	}
	m := c.m
	corner := make([]int32, len(outsides)) // leftmost vertex
	order := make([]int32, len(outsides))
	for k, i := range outsides {
		b.Spend(int(c.start[i+1] - c.start[i]))
		best := m.Start(c.walk[c.start[i]])
		for _, h := range c.walk[c.start[i]:c.start[i+1]] {
			if v := m.Start(h); m.nodes[v].before(m.nodes[best]) {
				best = v
			}
		}
		corner[k], order[k] = best, int32(k)
	}
	slices.SortFunc(order, func(k, l int32) int {
		b.Step()
		return m.nodes[corner[k]].compare(m.nodes[corner[l]])
	})
	below := newLocator(b, m).edgesBelow(b, corner)
	for _, k := range order {
		if h := below[k]; h >= 0 {
			c.face[outsides[k]] = c.face[m.Face(h)]
		}
	}
}

// edgesBelow returns for every vertex the upper side of the edge straight
// below a point just left of it, or −1. Most find it near by, in the cells of
// a locator. The others are answered by a sweep over the edges that matter to
// them: shapes in a column, say, that have nothing below but each other's
// left sides.
func (l *locator) edgesBelow(b *budget.Budget, vertices []int32) []HalfEdge {
	const near = 100
	below := make([]HalfEdge, len(vertices))
	var far []int32
	for i, v := range vertices {
		h, done := l.below(b, l.m.nodes[v], near)
		if below[i] = h; !done {
			far = append(far, int32(i))
		}
	}
	if len(far) > 0 {
		l.sweepBelow(b, vertices, far, below)
	}
	return below
}
