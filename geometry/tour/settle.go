package tour

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

const (
	around      = 2  // places on either side whose entries are chosen together
	fewEntries  = 12 // entries of a stop weighed in the search
	mostEntries = 48 // and when all are chosen at once
)

// chooser weighs the entries by which stops can be reached.
type chooser struct {
	*ring
	near   [][]neighbour // stops that may become neighbours, by stop, the nearest first
	few    [][]int32     // entries that are weighed in the search, by stop
	layers []layer
}

// settle chooses the entry of a closed stop that is best between its neighbours
// as they are entered now, and reports whether that is another one.
func (s *search) settle(stop int32) bool {
	if !s.varied(stop) {
		return false
	}
	p, q := s.mates[2*stop], s.mates[2*stop+1]
	was := s.links[p] + s.links[q]
	best, least := int32(-1), was-leastGain
	s.spend(1 + len(s.few[stop])/4)
	for _, e := range s.few[stop] {
		at := s.stops[stop].Entries[e]
		c := 0.0
		if p != s.free {
			c = s.cost(s.at[p], at)
		}
		if c < least && q != s.free {
			c += s.cost(at, s.at[q])
		}
		if c < least {
			best, least = e, c
		}
	}
	if best < 0 {
		return false
	}
	s.reenter(int(stop), int(best))
	s.gain += was - least
	s.due(p >> 1)
	s.due(q >> 1)
	s.due(stop)
	return true
}

// settleTouched chooses the entries of what was touched together with those
// around it, and reports whether that helps.
func (s *search) settleTouched() bool {
	helps := false
	s.round++
	n := len(s.stops)
	for _, stop := range s.touched {
		if !s.varied(stop) || s.seen[stop] == s.round {
			continue
		}
		first, count := int(s.place(stop))-around, min(2*around+1, n-1)
		if s.free >= 0 {
			first = max(1, first)
			count = min(count, n-first)
		}
		first = (first + n) % n
		for k := range count {
			s.seen[s.left((first+k)%n)>>1] = s.round
		}
		helps = s.choose(first, count, fewEntries) || helps
	}
	s.touched = s.touched[:0]
	return helps
}

// varied reports whether a stop can be entered in more than one way while its
// neighbours stay: an open one is turned by exchanges.
func (s *chooser) varied(stop int32) bool {
	return s.stops[stop].Closed && len(s.stops[stop].Entries) > 1
}

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
