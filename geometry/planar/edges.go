package planar

import "knifedesk/geometry/budget"

// merge turns the chains into the edges of m: pairs of neighbouring vertices,
// each once, From before To, by rising From and To, with their sources.
func (m *Map) merge(b *budget.Budget, d drawn, n noded) {
	start := make([]int32, len(n.vertices)+2)
	n.eachLink(b, func(_ int32, u, v int32) { start[min(u, v)+2]++ })
	accumulate(start)
	// A link is its higher vertex, its segment, and whether it runs down from
	// the higher vertex, in one number.
	links := make([]uint64, start[len(start)-1])
	n.eachLink(b, func(seg, u, v int32) {
		at := &start[min(u, v)+1]
		links[*at] = uint64(max(u, v))<<32 | uint64(seg)<<1
		if u > v {
			links[*at] |= 1
		}
		*at++
	})
	var spare []uint64
	edges, uses := 0, 0
	for u := range n.vertices {
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
			uses += int(d.first[seg+1] - d.first[seg])
		}
	}
	m.Edges = make([]Edge, 0, edges)
	m.sourceStart = make([]int32, 0, edges+1)
	m.sources = make([]int32, 0, uses)
	m.against = make([]bool, 0, uses)
	for u := range n.vertices {
		b.Spend(1 + int(start[u+1]-start[u]))
		m.mergeBucket(int32(u), links[start[u]:start[u+1]], d)
	}
	m.sourceStart = append(m.sourceStart, int32(len(m.sources)))
}

// mergeBucket appends the edges from u to the higher vertices of its links.
func (m *Map) mergeBucket(u int32, bucket []uint64, d drawn) {
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
