package planar

import "knifedesk/geometry/budget"

// cycles are the closed walks along the sides of edges that keep one face on
// the left. Cycle i is walk[start[i]:start[i+1]]. A face has one cycle of
// positive area, and one of no or negative area for each part of the drawing
// that lies inside it without touching its boundary.
type cycles struct {
	m     *Map
	start []int32
	walk  []HalfEdge
	area  []int64 // twice the signed area in square grid steps, exact
	again []bool  // passes some vertex more than once
	face  []int32
}

// trace walks all cycles of m. Until nest has run, the faces of m's edges are
// numbers of cycles.
func trace(b *budget.Budget, m *Map) *cycles {
	next := fansOf(b, m).followers(b)
	c := &cycles{m: m, walk: make([]HalfEdge, 0, len(next))}
	for i := range m.Edges {
		m.Edges[i].Left, m.Edges[i].Right = -1, -1
	}
	seen := make([]int32, len(m.nodes)) // the last cycle at a vertex, plus one
	for h := range HalfEdge(len(next)) {
		if m.Face(h) < 0 {
			b.Spend(c.follow(h, next, seen))
		}
	}
	c.start = append(c.start, int32(len(c.walk)))
	return c
}

// follow appends the cycle that begins with h and returns its length. The cross
// products may wrap round on the way; twice the area of the whole fits an int64.
func (c *cycles) follow(h HalfEdge, next []HalfEdge, seen []int32) int {
	m, id := c.m, int32(len(c.area))
	c.start = append(c.start, int32(len(c.walk)))
	first, again, area := h, false, int64(0)
	from := m.Start(h)
	for {
		c.setFace(h, id)
		c.walk = append(c.walk, h)
		again = again || seen[from] == id+1
		seen[from] = id + 1
		to := m.End(h)
		p, q := m.nodes[from], m.nodes[to]
		area += int64(p.x)*int64(q.y) - int64(p.y)*int64(q.x)
		from = to
		if h = next[h]; h == first {
			break
		}
	}
	c.area = append(c.area, area)
	c.again = append(c.again, again)
	return len(c.walk) - int(c.start[id])
}

// setFace sets the face to the left of h.
func (c *cycles) setFace(h HalfEdge, face int32) {
	if e := &c.m.Edges[h>>1]; h&1 == 0 {
		e.Left = face
	} else {
		e.Right = face
	}
}

// mark finds the edges that bound nothing. Loose ends are taken off until
// none is left: those edges dangle. Of the others, an edge with one cycle on
// both sides is a cut edge.
func (c *cycles) mark(b *budget.Budget) {
	m := c.m
	// For a vertex of degree one, the exclusive or of its edges is the edge.
	degree, edges := make([]int32, len(m.nodes)), make([]int32, len(m.nodes))
	b.Spend(len(m.Edges))
	for i := range m.Edges {
		e := &m.Edges[i]
		degree[e.From]++
		degree[e.To]++
		edges[e.From] ^= int32(i)
		edges[e.To] ^= int32(i)
		if e.Left == e.Right {
			e.Role = Cut
		}
	}
	b.Spend(len(m.nodes))
	for v := range m.nodes {
		for v := int32(v); degree[v] == 1; {
			i := edges[v]
			e := &m.Edges[i]
			e.Role = Dangling
			other := e.From + e.To - v
			degree[v], degree[other] = 0, degree[other]-1
			edges[other] ^= i
			v = other
		}
	}
}

// split turns the cycles into rings: a cycle that comes back to a vertex
// gives off the loop since its last visit. Dangling and cut edges are walked
// there and back, and so give loops of their two sides, which are dropped.
// The rings overwrite the walk, which is never shorter.
func (c *cycles) split(b *budget.Budget) {
	m := c.m
	m.halves = c.walk[:0]
	depth := make([]int32, len(m.nodes)) // place in the stack, plus one
	var stack []HalfEdge
	for i := range c.area {
		walk := c.walk[c.start[i]:c.start[i+1]]
		b.Spend(len(walk))
		if !c.again[i] {
			c.addRing(walk, c.face[i])
			continue
		}
		for _, h := range walk {
			from := m.Start(h)
			if at := depth[from]; at > 0 && int(at) <= len(stack) && m.Start(stack[at-1]) == from {
				c.addRing(stack[at-1:], c.face[i])
				stack = stack[:at-1]
			}
			stack = append(stack, h)
			depth[from] = int32(len(stack))
		}
		c.addRing(stack, c.face[i])
		stack = stack[:0]
	}
	m.ringStart = append(m.ringStart, int32(len(m.halves)))
	b.Spend(len(m.holes))
	c.sortHoles()
}

// addRing appends the ring of face, unless it is the two sides of one edge.
func (c *cycles) addRing(ring []HalfEdge, face int32) {
	if len(ring) < 3 {
		return
	}
	m := c.m
	r := Ring(len(m.ringStart))
	at := len(m.halves)
	m.ringStart = append(m.ringStart, int32(at))
	m.halves = append(m.halves, ring...) // ring may lie in the same array, farther on
	if m.twiceArea(m.halves[at:]) > 0 {
		m.Faces[face].Outer = r
	} else {
		m.holes = append(m.holes, r)
	}
}

// sortHoles groups the holes by face.
func (c *cycles) sortHoles() {
	m := c.m
	m.holeStart = make([]int32, len(m.Faces)+2)
	for _, r := range m.holes {
		m.holeStart[m.RingFace(r)+2]++
	}
	accumulate(m.holeStart)
	grouped := make([]Ring, len(m.holes))
	for _, r := range m.holes {
		at := &m.holeStart[m.RingFace(r)+1]
		grouped[*at] = r
		*at++
	}
	m.holes = grouped
	m.holeStart = m.holeStart[:len(m.Faces)+1]
}
