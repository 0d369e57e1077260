package tour

import "math"

const (
	heat       = 0.1    // of the mean link: what a kick may cost at the start
	heatTied   = 2      // and among a few stops whose order is bound
	mostHeated = 20_000 // stops; of more, no kick may cost anything

	// shareOfMany is the share of the kicks that is made of stops whose order is kept in
	// blocks: what they gain there is little beside the first descent.
	shareOfMany = 4
)

// anneal kicks the ring so often, and mends each kick, until the work that is
// allowed is done. What got longer stays so with a chance that falls with the
// length and as the search goes on (Kirkpatrick, Gelatt and Vecchi, 1983); the
// best ring is what is left.
func (s *search) anneal(kicks, work int) {
	s.settled()
	now := s.total()
	best, isBest := now, true // whether the ring is the best so far
	var keep *snapshot        // else this is
	warmth := heat * now / float64(len(s.stops))
	if s.fewTied {
		warmth = heatTied * now / float64(len(s.stops))
	}
	if len(s.stops) > mostHeated {
		warmth = 0
	}
	s.work = 0
	for i := 0; i < kicks && s.work < work; i++ {
		s.gain = 0
		if !s.kick() {
			continue
		}
		s.descend()
		if s.gain < -leastGain {
			done := max(float64(i)/float64(kicks), float64(s.work)/float64(work))
			if t := warmth * (1 - done); t <= 0 || s.chance() >= math.Exp(s.gain/t) {
				s.undo()
				continue
			}
			if isBest {
				keep, isBest = s.before(keep), false
			}
		}
		now -= s.gain
		s.settled()
		if now < best-leastGain {
			best, isBest = now, true
		}
	}
	if !isBest {
		s.restore(keep)
	}
}

// snapshot is a ring as it once was.
type snapshot struct {
	ports []port
	entry []int
}

// before keeps the ring as it was before the changes noted.
func (r *ring) before(k *snapshot) *snapshot {
	if k == nil {
		k = &snapshot{make([]port, len(r.stops)), make([]int, len(r.entry))}
	}
	r.b.Spend(1 + len(r.stops)/8)
	copy(k.ports, r.list(0, len(r.stops)-1))
	copy(k.entry, r.entry)
	for i := len(r.notes) - 1; i >= 0; i-- {
		n := &r.notes[i]
		if n.k == 0 {
			k.entry[n.stop] = int(n.entry)
			continue
		}
		r.buf = n.shuffled(r.buf[:0], k.ports)
		copy(k.ports[n.gap[0]+1:], r.buf)
	}
	return k
}

// restore makes the ring what it was.
func (r *ring) restore(k *snapshot) {
	r.b.Spend(len(r.stops))
	for s, e := range k.entry {
		r.put(s, e)
	}
	r.arrange(k.ports)
}
