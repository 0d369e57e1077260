package pass

import (
	"math"

	"knifedesk/geometry"
)

// exactWork bounds the transitions that exact looks at: about 10 ms.
const exactWork = 1 << 21

// exact finds the shortest tour of a few stops by dynamic programming over
// subsets and the entry of the last stop (Held and Karp, 1962). It returns
// false, and changes nothing, where the stops or their entries are too many.
func (t *tour) exact() bool {
	type entryOf struct{ member, entry int }
	var all []entryOf
	for m, s := range t.seq {
		for e := range t.stops[s].entries {
			all = append(all, entryOf{m, e})
		}
	}
	n := len(t.seq)
	if n > 12 || (1<<n)*len(all)*len(all) > exactWork {
		return false
	}
	in := func(g entryOf) geometry.Point { return t.stops[t.seq[g.member]].entries[g.entry] }
	out := func(g entryOf) geometry.Point { return t.stops[t.seq[g.member]].exit(g.entry) }
	need := t.predecessors()
	cost := make([]float64, len(all)<<n) // by set, then last entry
	from := make([]int32, len(cost))     // the entry before; -1: the start
	for i := range cost {
		cost[i] = math.Inf(1)
	}
	relax := func(set, last int, from32 int32, c float64) {
		if at := set*len(all) + last; c < cost[at] {
			cost[at], from[at] = c, from32
		}
	}
	for g, e := range all {
		if need[e.member] == 0 {
			relax(1<<e.member, g, -1, t.cost(t.start, in(e)))
		}
	}
	full := 1<<n - 1
	for set := 1; set < full; set++ {
		for g, e := range all {
			c := cost[set*len(all)+g]
			if math.IsInf(c, 1) {
				continue
			}
			for h, next := range all {
				if set>>next.member&1 == 0 && need[next.member]&^set == 0 {
					relax(set|1<<next.member, h, int32(g), c+t.cost(out(e), in(next)))
				}
			}
		}
	}
	last := 0
	for g := range all {
		if cost[full*len(all)+g] < cost[full*len(all)+last] {
			last = g
		}
	}
	if math.IsInf(cost[full*len(all)+last], 1) {
		return false // the predecessors run in a circle
	}
	order := make([]int, n)
	for set, i := full, n-1; i >= 0; i-- {
		e := all[last]
		order[i] = t.seq[e.member]
		t.entry[order[i]] = e.entry
		before := from[set*len(all)+last]
		set &^= 1 << e.member
		last = int(before)
	}
	copy(t.seq, order)
	for i, s := range t.seq {
		t.pos[s] = i
	}
	return true
}

// predecessors returns, by member, the set of members that come before it.
func (t *tour) predecessors() []int {
	need := make([]int, len(t.seq))
	for m, s := range t.seq {
		for _, b := range t.stops[s].before {
			if p := t.pos[b]; p >= 0 {
				need[m] |= 1 << p
			}
		}
	}
	return need
}
