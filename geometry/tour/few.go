package tour

import (
	"math"
	"slices"

	"knifedesk/geometry"
)

// thin picks the entries of every stop that the search weighs: all where they
// are few, else those nearest to its neighbours, and some picked evenly.
func (s *chooser) thin() {
	s.few = make([][]int32, len(s.stops))
	var all []int32
	for stop := range s.stops {
		from := len(all)
		if s.varied(int32(stop)) {
			all = s.fewOf(all, int32(stop))
		}
		s.few[stop] = all[from:len(all):len(all)]
	}
}

func (s *chooser) fewOf(to []int32, stop int32) []int32 {
	entries := s.stops[stop].Entries
	from := len(to)
	if len(entries) <= fewEntries {
		for e := range entries {
			to = append(to, int32(e))
		}
		return to
	}
	add := func(e int32) {
		if len(to) < from+fewEntries && !slices.Contains(to[from:], e) {
			to = append(to, e)
		}
	}
	for _, other := range s.near[stop][:min(len(s.near[stop]), fewEntries*2/3)] {
		add(s.nearestTo(entries, s.stops[other.stop].Entries))
	}
	for k := range fewEntries {
		add(int32(k * len(entries) / fewEntries))
	}
	return to
}

// nearestTo returns the entry nearest to others, of which it looks at some.
func (s *chooser) nearestTo(entries, others []geometry.Point) int32 {
	best, least := 0, math.Inf(1)
	step := 1 + (len(others)-1)/4
	s.spend(len(entries))
	for k := 0; k < len(others); k += step {
		for e, p := range entries {
			if d := p.Sub(others[k]); d.Dot(d) < least {
				best, least = e, d.Dot(d)
			}
		}
	}
	return int32(best)
}
