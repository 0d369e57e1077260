package planar

import "slices"

// nest numbers the faces and puts every part of the drawing into the face
// that holds it.
//
// Each connected part has one cycle of no or negative area: its outside. Its
// leftmost vertex (lowest of those) sees, straight down, an edge of another
// part or nothing. The upper side of that edge belongs to the face that holds
// the part, or to the outside of a part that lies farther left and has been
// placed already.
func (m *Map) nest(c *cycles) {
	c.face = make([]int32, len(c.area))
	m.Faces = append(make([]Face, 0, len(c.area)+1), Face{Outer: NoRing})
	var outsides []int32
	for i, area := range c.area {
		if area > 0 {
			c.face[i] = int32(len(m.Faces))
			m.Faces = append(m.Faces, Face{Outer: NoRing})
		} else {
			outsides = append(outsides, int32(i))
		}
	}
	m.place(c, outsides)
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
func (m *Map) place(c *cycles, outsides []int32) {
	if len(outsides) < 2 {
		return
	}
	corner := make([]int32, len(outsides)) // leftmost vertex
	order := make([]int32, len(outsides))
	for k, i := range outsides {
		best := m.Start(c.walk[c.start[i]])
		for _, h := range c.walk[c.start[i]:c.start[i+1]] {
			if v := m.Start(h); m.nodes[v].before(m.nodes[best]) {
				best = v
			}
		}
		corner[k], order[k] = best, int32(k)
	}
	slices.SortFunc(order, func(a, b int32) int { return m.nodes[corner[a]].compare(m.nodes[corner[b]]) })
	below := m.edgesBelow(corner)
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
func (m *Map) edgesBelow(vertices []int32) []HalfEdge {
	const near = 100
	l := m.newLocator()
	below := make([]HalfEdge, len(vertices))
	var far []int32
	for i, v := range vertices {
		h, done := l.below(m.nodes[v], near)
		if below[i] = h; !done {
			far = append(far, int32(i))
		}
	}
	if len(far) > 0 {
		m.sweepBelow(vertices, far, below)
	}
	return below
}
