package tour

const leastGain = 1e-9 // of cost; less is rounding

const (
	mostLinks = 3   // that an exchange of the search takes out
	mostFew   = 200 // stops that are few
)

// breadth is how many continuations of a move are tried at each depth: more of
// them among a few stops whose order is bound, where many are not allowed.
func (s *search) breadth(k int) int {
	if s.fewTied {
		return 12
	}
	return [mostLinks]int{0, 8, 6}[k]
}

// search shortens a ring by exchanges of up to three links, each put in beside
// a neighbour and only as long as more was saved than spent (Lin and Kernighan,
// 1973; Johnson and McGeoch, 1997). The links of an exchange form a chain, and
// what lies between them is followed round before anything moves, so
// exchanges whose first steps alone would part the ring are found too
// (Helsgaun, 2000). In the same time, broad exchanges of three links between
// more kicks come nearer to known optima than narrow ones of five (measured).
type search struct {
	*ring
	chooser
	single  bool    // whether all stops have one entry
	tied    bool    // whether the order is bound at all
	fewTied bool    // and the stops are few
	queue   []int32 // stops whose moves are still to be tried
	isDue   []bool
	touched []int32 // stops whose entries are still to be chosen together
	seen    []int   // round in which the entry was chosen last, by stop
	round   int
	x       exchange
	gain    float64 // cost saved by the changes noted
	chances
}

// due puts a stop on the list of those to try.
func (s *search) due(stop int32) {
	if !s.isDue[stop] {
		s.isDue[stop] = true
		s.queue = append(s.queue, stop)
		if !s.single {
			s.touched = append(s.touched, stop)
		}
	}
}

// descend makes moves until none helps.
func (s *search) descend() {
	for i := 0; ; i++ {
		if i == len(s.queue) {
			s.queue, i = s.queue[:0], 0
			if !s.settleTouched() {
				return
			}
		}
		stop := s.queue[i]
		s.isDue[stop] = false
		for s.improve(stop) {
		}
	}
}

// improve makes one move that takes out a link of the stop, or enters it
// elsewhere, and reports whether there is one.
func (s *search) improve(stop int32) bool {
	return s.settle(stop) || s.relocate(stop) || s.from(2*stop) || s.from(2*stop+1)
}

// from tries the exchanges that begin with the link of a port.
func (s *search) from(t1 port) bool {
	s.x.t[0], s.x.t[1] = t1, s.mates[t1]
	return s.deepen(1, s.links[t1])
}

// option is a way to go on with an exchange: port t3 is linked to the last
// one, and its own link to t4 taken out.
type option struct {
	t3, t4 port
	open   float64 // saved so far, before the circle is closed
}

// deepen goes on with an exchange that has taken out k links and saved open,
// and reports whether one that saves was made.
func (s *search) deepen(k int, open float64) bool {
	var best [12]option
	n := s.options(k, open, best[:s.breadth(k)])
	for _, o := range best[:n] {
		s.x.t[2*k], s.x.t[2*k+1] = o.t3, o.t4
		s.x.k = k + 1
		if gain := o.open - s.d(o.t4, s.x.t[0]); gain > leastGain && s.x.arrange(s.ring) && s.allowed(&s.x) {
			s.close()
			s.make(gain)
			return true
		}
		if k+1 < mostLinks && s.deepen(k+1, o.open) {
			return true
		}
	}
	return false
}

// options gathers the best continuations of an exchange, the best first.
func (s *search) options(k int, open float64, best []option) int {
	last := s.x.t[2*k-1]
	near := s.near[last>>1]
	s.spend(1 + len(near)/4)
	n := 0
	if last == s.free {
		for i := range near {
			n = s.offer(k, 2*near[i].stop, open, best, n)
			n = s.offer(k, 2*near[i].stop+1, open, best, n)
		}
	} else {
		n = s.beside(k, last, open, best)
	}
	if s.free >= 0 {
		n = s.offer(k, s.free, open, best, n)
		n = s.offer(k, s.free+1, open-s.d(last, s.free+1), best, n)
	}
	return n
}

// beside gathers those that go on beside the neighbours of the last port.
func (s *search) beside(k int, last port, open float64, best []option) int {
	from := s.at[last]
	n := 0
	for i := range s.near[last>>1] {
		other := &s.near[last>>1][i]
		if open-other.apart <= leastGain {
			break // those that follow are farther away
		}
		p := 2 * other.stop
		left := open - other.apart
		if !s.single {
			left = open - s.cost(from, s.at[p])
		}
		n = s.offer(k, p, left, best, n)
		if !s.stops[other.stop].Closed {
			left = open - s.cost(from, s.at[p+1])
		}
		n = s.offer(k, p+1, left, best, n)
	}
	return n
}

// offer enters a continuation among the n best, and returns how many there are.
func (s *search) offer(k int, t3 port, left float64, best []option, n int) int {
	if left <= leastGain {
		return n
	}
	o := option{t3, s.mates[t3], left + s.links[t3]}
	if n == len(best) && best[n-1].open >= o.open || o.t4 == s.x.t[2*k-1] || s.x.takenOut(k, t3) {
		return n
	}
	i := min(n, len(best)-1)
	for ; i > 0 && best[i-1].open < o.open; i-- {
		best[i] = best[i-1]
	}
	best[i] = o
	return min(n+1, len(best))
}

// takenOut reports whether the link of a port is among the first k that are taken out.
func (x *exchange) takenOut(k int, p port) bool {
	for _, q := range x.t[:2*k] {
		if p == q {
			return true
		}
	}
	return false
}

// close puts the links of an exchange in.
func (s *search) close() {
	t, last := &s.x.t, 2*s.x.k-1
	for i := 1; i < last; i += 2 {
		s.join(t[i], t[i+1])
	}
	s.join(t[last], t[0])
}

// make carries out an exchange whose links are put in.
func (s *search) make(gain float64) {
	s.gain += gain
	s.reorder(&s.x)
	for _, p := range s.x.t[:2*s.x.k] {
		s.due(p >> 1)
	}
}
