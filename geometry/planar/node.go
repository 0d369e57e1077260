package planar

import (
	"slices"

	"knifedesk/geometry/budget"
)

// noded is the result of snap rounding: the vertices, and for each segment
// the vertices it was bent to, chain[first[i]:first[i+1]], from its start a
// to its end b.
type noded struct {
	vertices []node
	first    []int32
	chain    []int32
}

// snapBalance is the constant of stripsFor, found by measurement on the
// benchmark's sets.
const snapBalance = 0.5

// snapRound nodes the segments (Hobby 1999; Guibas and Marimont 1998): every
// pixel that holds an end or a crossing is hot, and every segment is bent to
// the middle of each hot pixel it meets. The bent segments meet only at
// vertices: the middle of a pixel that a segment meets lies in the sum of
// segment and pixel, which is convex, so a chain stays in it and cannot run
// through the middle of a pixel that its segment misses.
func snapRound(b *budget.Budget, segs []segment) noded {
	if len(segs) == 0 {
		return noded{first: []int32{0}}
	}
	st := stripsFor(b, segs, snapBalance)
	start, ids := st.fill(b, segs)
	const leastStrips = 8
	sweepers := make([]sweeper, max(1, st.count()))
	parts := inParts(b, st.count(), leastStrips, func(b *budget.Budget, part, from, to int) {
		w := &sweepers[part]
		w.budget = b
		for k := from; k < to; k++ {
			w.snap(segs, ids[start[k]:start[k+1]], st.bounds[k], st.bounds[k+1])
		}
	})
	return chains(b, segs, sweepers[:parts])
}

// chains joins the parts of the sweep and sorts the hits along each segment.
func chains(b *budget.Budget, segs []segment, sweepers []sweeper) noded {
	n := noded{first: make([]int32, len(segs)+2)}
	total := 0
	for i := range sweepers {
		total += len(sweepers[i].vertices)
		b.Spend(len(sweepers[i].hits))
		for _, h := range sweepers[i].hits {
			n.first[h.seg+2]++
		}
	}
	accumulate(n.first)
	n.vertices = make([]node, 0, total)
	n.chain = make([]int32, n.first[len(n.first)-1])
	for i := range sweepers {
		base := int32(len(n.vertices))
		b.Spend(len(sweepers[i].hits))
		n.vertices = append(n.vertices, sweepers[i].vertices...)
		for _, h := range sweepers[i].hits {
			n.chain[n.first[h.seg+1]] = base + h.vertex
			n.first[h.seg+1]++
		}
		sweepers[i] = sweeper{}
	}
	n.first = n.first[:len(segs)+1]
	inParts(b, len(segs), 10_000, func(b *budget.Budget, _, from, to int) {
		for i := from; i < to; i++ {
			n.sortChain(b, segs[i], n.chain[n.first[i]:n.first[i+1]])
		}
	})
	return n
}

// sortChain orders vertices along s. A segment passes through disjoint pixels
// with x rising and y never turning back, so one sum orders them strictly.
func (n *noded) sortChain(b *budget.Budget, s segment, chain []int32) {
	b.Spend(len(chain))
	sign := int64(1)
	if s.b.y < s.a.y {
		sign = -1
	}
	along := func(v int32) int64 { return int64(n.vertices[v].x) + sign*int64(n.vertices[v].y) }
	if len(chain) > 24 {
		slices.SortFunc(chain, func(u, v int32) int {
			b.Step()
			return int(along(u) - along(v))
		})
		return
	}
	for i := 1; i < len(chain); i++ {
		v, at := chain[i], along(chain[i])
		j := i
		for ; j > 0 && along(chain[j-1]) > at; j-- {
			chain[j] = chain[j-1]
		}
		chain[j] = v
	}
}
