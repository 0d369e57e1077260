package tour

import (
	"cmp"
	"math"
	"slices"
)

// mostEntries bounds the entries of a stop that settleAll weighs together with
// those of its neighbours; of more, the best by themselves are taken.
const mostEntries = 48

// settleAll chooses the entries of all stops at once, the best there are for
// the order as it stands: the shortest path through layers of entries.
func (s *search) settleAll() {
	layers := make([][]int, len(s.seq))
	back := make([][]int, len(s.seq)) // place in the layer before, by place in the layer
	var before []float64
	for i := range s.seq {
		layers[i] = s.candidates(i)
		now := make([]float64, len(layers[i]))
		back[i] = make([]int, len(layers[i]))
		for e := range now {
			now[e], back[i][e] = s.reach(i, layers, before, e)
		}
		before = now
	}
	e := 0
	for k := range before {
		if before[k] < before[e] {
			e = k
		}
	}
	for i := len(s.seq) - 1; i >= 0; i-- {
		s.entry[s.seq[i]] = layers[i][e]
		e = back[i][e]
	}
}

// reach returns the least cost of coming to candidate e of layer i, and the
// candidate of the layer before from which.
func (s *search) reach(i int, layers [][]int, before []float64, e int) (float64, int) {
	s.b.Spend(1 + len(before))
	stop := s.stops[s.seq[i]]
	in := stop.Entries[layers[i][e]]
	if i == 0 {
		return s.cost(s.start, in), 0
	}
	prev := s.stops[s.seq[i-1]]
	best, from := math.Inf(1), 0
	for k, c := range before {
		if c < best {
			if c += s.cost(prev.exit(layers[i-1][k]), in); c < best {
				best, from = c, k
			}
		}
	}
	return best, from
}

// candidates returns the entries of the stop at place i that are weighed.
func (s *search) candidates(i int) []int {
	stop := s.seq[i]
	s.b.Spend(len(s.stops[stop].Entries))
	all := make([]int, len(s.stops[stop].Entries))
	costs := make([]float64, len(all))
	was := s.entry[stop]
	for e := range all {
		all[e] = e
		s.entry[stop] = e
		costs[e] = s.link(i) + s.link(i+1)
	}
	s.entry[stop] = was
	if len(all) <= mostEntries {
		return all
	}
	slices.SortFunc(all, func(a, b int) int { return cmp.Or(cmp.Compare(costs[a], costs[b]), cmp.Compare(a, b)) })
	return all[:mostEntries]
}
