package tour

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
