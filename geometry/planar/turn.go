package planar

import (
	"slices"

	"knifedesk/geometry/budget"
)

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

// fans are the half-edges that leave each vertex: those of vertex v are
// out[start[v]:start[v+1]].
type fans struct {
	m     *Map
	start []int32
	out   []HalfEdge
}

// fansOf lists the half-edges in no particular order.
func fansOf(b *budget.Budget, m *Map) fans {
	start := make([]int32, len(m.nodes)+2)
	b.Spend(len(m.Edges))
	for i := range m.Edges {
		start[m.Edges[i].From+2]++
		start[m.Edges[i].To+2]++
	}
	accumulate(start)
	out := make([]HalfEdge, 2*len(m.Edges))
	b.Spend(len(m.Edges))
	for i := range m.Edges {
		from, to := &start[m.Edges[i].From+1], &start[m.Edges[i].To+1]
		out[*from] = HalfEdge(2 * i)
		*from++
		out[*to] = HalfEdge(2*i + 1)
		*to++
	}
	return fans{m: m, start: start[:len(m.nodes)+1], out: out}
}

// followers returns for every half-edge the next one round the face on its
// left: at the vertex where it arrives, the first clockwise from its twin.
func (f fans) followers(b *budget.Budget) []HalfEdge {
	next := make([]HalfEdge, len(f.out))
	inParts(b, len(f.m.nodes), 10_000, func(b *budget.Budget, _, from, to int) {
		var vectors []node
		for v := from; v < to; v++ {
			fan := f.out[f.start[v]:f.start[v+1]]
			b.Spend(len(fan))
			vectors = f.sort(b, int32(v), fan, vectors)
			for i, h := range fan {
				next[h.Twin()] = fan[(i+len(fan)-1)%len(fan)]
			}
		}
	})
	return next
}

// sort orders the half-edges that leave v anticlockwise. Two need no order.
func (f fans) sort(b *budget.Budget, v int32, fan []HalfEdge, vectors []node) []node {
	if len(fan) < 3 {
		return vectors
	}
	if len(fan) > 24 {
		slices.SortFunc(fan, func(g, h HalfEdge) int {
			b.Step()
			return turnOrder(f.vector(v, g), f.vector(v, h))
		})
		return vectors
	}
	vectors = vectors[:0]
	for i, h := range fan {
		w := f.vector(v, h)
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
func (f fans) vector(v int32, h HalfEdge) node {
	p, q := f.m.nodes[v], f.m.nodes[f.m.End(h)]
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
