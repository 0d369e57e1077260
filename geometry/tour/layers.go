package tour

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// layer is the entries of one place that are weighed.
type layer struct {
	entries []int32
	costs   []float64 // least cost from the place before the first to here
	from    []int32   // in the layer before
}

// choose finds the best entries of count stops from place first on, as they
// stand: the shortest path through layers of entries. It reports whether they
// are better than before.
func (s *search) choose(first, count, most int) bool {
	for len(s.layers) < count {
		s.layers = append(s.layers, layer{})
	}
	layers := s.layers[:count]
	before := s.right(s.prev(first))
	was := s.links[before]
	last := first
	for k := range layers {
		i := (first + k) % len(s.stops)
		last = i
		s.weighed(&layers[k], i, most)
		was += s.links[s.right(i)]
		for e := range layers[k].entries {
			s.reach(layers, k, e, i)
		}
	}
	end := &layers[len(layers)-1]
	best, e := math.Inf(1), 0
	after := s.left(s.next(last))
	for k, c := range end.costs {
		if after != s.free {
			c += s.cost(s.leaving(last, end.entries[k]), s.at[after])
		}
		if c < best {
			best, e = c, k
		}
	}
	if best > was-leastGain {
		return false
	}
	s.gain += was - best
	for k := len(layers) - 1; k >= 0; k-- {
		stop := s.left((first+k)%len(s.stops)) >> 1
		if entry := int(layers[k].entries[e]); entry != s.entry[stop] {
			s.reenter(int(stop), entry)
			s.due(stop)
		}
		e = int(layers[k].from[e])
	}
	s.due(before >> 1)
	s.due(after >> 1)
	return true
}

// reach finds the least cost of coming to an entry of layer k, which is place i.
func (s *chooser) reach(layers []layer, k, e, i int) {
	l := &layers[k]
	in := s.entering(i, l.entries[e])
	if k == 0 {
		l.costs[e], l.from[e] = s.cost(s.at[s.right(s.prev(i))], in), 0
		return
	}
	before := &layers[k-1]
	s.spend(1 + len(before.costs)/2)
	best, from := math.Inf(1), 0
	for j, c := range before.costs {
		if c < best {
			if c += s.cost(s.leaving(s.prev(i), before.entries[j]), in); c < best {
				best, from = c, j
			}
		}
	}
	l.costs[e], l.from[e] = best, int32(from)
}

// entering and leaving are where the stop at a place is entered and left by one
// of its entries; an open one stays as it lies.
func (s *chooser) entering(i int, entry int32) geometry.Point {
	p := s.left(i)
	if s.varied(p >> 1) {
		return s.stops[p>>1].Entries[entry]
	}
	return s.at[p]
}

func (s *chooser) leaving(i int, entry int32) geometry.Point {
	p := s.right(i)
	if s.varied(p >> 1) {
		return s.stops[p>>1].Entries[entry]
	}
	return s.at[p]
}

// weighed fills in the entries of the stop at place i that are weighed: all, or
// the best by themselves where there are more than most.
func (s *chooser) weighed(l *layer, i, most int) {
	stop := s.left(i) >> 1
	l.entries = l.entries[:0]
	switch entries := s.stops[stop].Entries; {
	case !s.varied(stop):
		l.entries = append(l.entries, int32(s.entry[stop]))
	case most == fewEntries:
		l.entries = append(l.entries, s.few[stop]...)
	case len(entries) <= most:
		for e := range entries {
			l.entries = append(l.entries, int32(e))
		}
	default:
		l.entries = s.nearest(l.entries, i, most)
	}
	n := len(l.entries)
	l.costs, l.from = slices.Grow(l.costs[:0], n)[:n], slices.Grow(l.from[:0], n)[:n]
}

// nearest appends the entries of the stop at place i that are best between its
// neighbours as they are entered now, and the one it has.
func (s *chooser) nearest(to []int32, i, most int) []int32 {
	p, q := s.right(s.prev(i)), s.left(s.next(i))
	stop := s.left(i) >> 1
	entries := s.stops[stop].Entries
	s.spend(len(entries))
	costs := make([]float64, len(entries))
	for e, at := range entries {
		to = append(to, int32(e))
		costs[e] = s.cost(s.at[p], at)
		if q != s.free {
			costs[e] += s.cost(at, s.at[q])
		}
	}
	costs[s.entry[stop]] = -1
	slices.SortFunc(to, func(a, b int32) int { return cmp.Or(cmp.Compare(costs[a], costs[b]), cmp.Compare(a, b)) })
	return to[:most]
}
