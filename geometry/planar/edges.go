package planar

import "knifedesk/geometry/budget"

// merger makes the edges of a map of drawn segments that were noded.
type merger struct {
	m *Map
	d drawn
	n noded
}

// merge turns the chains into the edges of the map: pairs of neighbouring
// vertices, each once, From before To, by rising From and To, with their
// sources.
func (g merger) merge(b *budget.Budget) {
	start, links := g.links(b)
	g.reserve(b, start, links)
	for u := range g.n.vertices {
		b.Spend(1 + int(start[u+1]-start[u]))
		g.mergeBucket(int32(u), links[start[u]:start[u+1]])
	}
	g.m.sourceStart = append(g.m.sourceStart, int32(len(g.m.sources)))
}

// links returns the links of the chains, bucketed by their lower vertex: those
// of u are links[start[u]:start[u+1]]. A link is its higher vertex, its segment,
// and whether it runs down from the higher vertex, in one number.
func (g merger) links(b *budget.Budget) (start []int32, links []uint64) {
	n := g.n
	start = make([]int32, len(n.vertices)+2)
	n.eachLink(b, func(_ int32, u, v int32) { start[min(u, v)+2]++ })
	accumulate(start)
	links = make([]uint64, start[len(start)-1])
	n.eachLink(b, func(seg, u, v int32) {
		at := &start[min(u, v)+1]
		links[*at] = uint64(max(u, v))<<32 | uint64(seg)<<1
		if u > v {
			links[*at] |= 1
		}
		*at++
	})
	return start, links
}

// reserve sorts every bucket by the higher vertex and makes room for the edges.
func (g merger) reserve(b *budget.Budget, start []int32, links []uint64) {
	var spare []uint64
	edges, uses := 0, 0
	for u := range g.n.vertices {
		bucket := links[start[u]:start[u+1]]
		b.Spend(1 + len(bucket))
		if len(bucket) == 0 {
			continue
		}
		var sorted []uint64
		if sorted, spare = byHigh(bucket, spare); &sorted[0] != &bucket[0] {
			spare = sorted[:copy(bucket, sorted)]
		}
		for i, k := range bucket {
			if i == 0 || k>>32 != bucket[i-1]>>32 {
				edges++
			}
			seg := uint32(k) >> 1
			uses += int(g.d.first[seg+1] - g.d.first[seg])
		}
	}
	m := g.m
	m.Edges = make([]Edge, 0, edges)
	m.sourceStart = make([]int32, 0, edges+1)
	m.sources = make([]int32, 0, uses)
	m.against = make([]bool, 0, uses)
}

// mergeBucket appends the edges from u to the higher vertices of its links.
func (g merger) mergeBucket(u int32, bucket []uint64) {
	m, d := g.m, &g.d
	for i, k := range bucket {
		if i == 0 || k>>32 != bucket[i-1]>>32 {
			m.Edges = append(m.Edges, Edge{From: u, To: int32(k >> 32)})
			m.sourceStart = append(m.sourceStart, int32(len(m.sources)))
		}
		seg, down := uint32(k)>>1, k&1 == 1
		for use := d.first[seg]; use < d.first[seg+1]; use++ {
			m.sources = append(m.sources, d.sources[use])
			m.against = append(m.against, d.against[use] != down)
		}
	}
}

// eachLink calls do for every pair of neighbours in the chain of a segment.
func (n *noded) eachLink(b *budget.Budget, do func(seg, u, v int32)) {
	for i := 0; i+1 < len(n.first); i++ {
		chain := n.chain[n.first[i]:n.first[i+1]]
		b.Spend(1 + len(chain))
		for k := 1; k < len(chain); k++ {
			do(int32(i), chain[k-1], chain[k])
		}
	}
}
