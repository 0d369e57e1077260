package planar

import "slices"

// HalfEdge is one side of an edge: 2e runs from From to To and has the face
// Left on its left, 2e+1 runs back.
type HalfEdge int32

// Edge returns the index of the edge.
func (h HalfEdge) Edge() int32 { return int32(h) >> 1 }

// Twin returns the other side of the same edge.
func (h HalfEdge) Twin() HalfEdge { return h ^ 1 }

// Start returns the vertex where h begins.
func (m *Map) Start(h HalfEdge) int32 {
	if h&1 == 0 {
		return m.Edges[h>>1].From
	}
	return m.Edges[h>>1].To
}

// End returns the vertex where h ends.
func (m *Map) End(h HalfEdge) int32 { return m.Start(h.Twin()) }

// followers returns for every half-edge the next one round the face on its
// left: at the vertex where it arrives, the first clockwise from its twin.
func (m *Map) followers() []HalfEdge {
	start, out := m.fans()
	next := make([]HalfEdge, len(out))
	inParts(len(m.nodes), 10_000, func(_, from, to int) {
		var vectors []node
		for v := from; v < to; v++ {
			fan := out[start[v]:start[v+1]]
			vectors = m.sortFan(int32(v), fan, vectors)
			for i, h := range fan {
				next[h.Twin()] = fan[(i+len(fan)-1)%len(fan)]
			}
		}
	})
	return next
}

// fans lists for every vertex the half-edges that leave it.
func (m *Map) fans() (start []int32, out []HalfEdge) {
	start = make([]int32, len(m.nodes)+2)
	for i := range m.Edges {
		start[m.Edges[i].From+2]++
		start[m.Edges[i].To+2]++
	}
	accumulate(start)
	out = make([]HalfEdge, 2*len(m.Edges))
	for i := range m.Edges {
		from, to := &start[m.Edges[i].From+1], &start[m.Edges[i].To+1]
		out[*from] = HalfEdge(2 * i)
		*from++
		out[*to] = HalfEdge(2*i + 1)
		*to++
	}
	return start[:len(m.nodes)+1], out
}

// sortFan orders the half-edges that leave v anticlockwise. Two need no order.
func (m *Map) sortFan(v int32, fan []HalfEdge, vectors []node) []node {
	if len(fan) < 3 {
		return vectors
	}
	if len(fan) > 24 {
		slices.SortFunc(fan, func(g, h HalfEdge) int { return turnOrder(m.vector(v, g), m.vector(v, h)) })
		return vectors
	}
	vectors = vectors[:0]
	for i, h := range fan {
		w := m.vector(v, h)
		vectors = append(vectors, w)
		j := i
		for ; j > 0 && turnOrder(vectors[j-1], w) > 0; j-- {
			vectors[j], fan[j] = vectors[j-1], fan[j-1]
		}
		vectors[j], fan[j] = w, h
	}
	return vectors
}

// vector returns the direction of h, which leaves v.
func (m *Map) vector(v int32, h HalfEdge) node {
	p, q := m.nodes[v], m.nodes[m.End(h)]
	return node{q.x - p.x, q.y - p.y}
}

// turnOrder compares the directions u and v by their angle in [0, 2π). They
// are differences of nodes, so their cross product is exact.
func turnOrder(u, v node) int {
	lowerU, lowerV := u.y < 0 || u.y == 0 && u.x < 0, v.y < 0 || v.y == 0 && v.x < 0
	if lowerU != lowerV {
		if lowerV {
			return -1
		}
		return 1
	}
	switch c := int64(u.x)*int64(v.y) - int64(u.y)*int64(v.x); {
	case c > 0:
		return -1
	case c < 0:
		return 1
	}
	return 0
}
