package tour

// opening is a link between two ports into which a stop is put, by one of its entries.
type opening struct {
	a, b  port
	entry int32
	gain  float64
}

// relocate moves a stop that can be entered in several ways into another link, by the
// entry that is best there, and reports whether that helps. Exchanges alone miss that
// where the stop, as it is entered now, would cost more there.
func (s *search) relocate(stop int32) bool {
	if !s.varied(stop) || len(s.stops) < 4 {
		return false
	}
	p, q := s.mates[2*stop], s.mates[2*stop+1]
	saved := s.links[p] + s.links[q] - s.d(p, q)
	reach := max(s.links[p], s.links[q])
	best := opening{gain: leastGain}
	for i := range s.near[stop] {
		other := &s.near[stop][i]
		if other.apart >= reach {
			break // going there alone costs more than what is saved
		}
		for a := 2 * other.stop; a <= 2*other.stop+1; a++ {
			if b := s.mates[a]; b>>1 != stop {
				s.fits(stop, a, b, saved+s.links[a], &best)
			}
		}
	}
	if best.gain <= leastGain {
		return false
	}
	s.x.k, s.x.t = 3, [2 * deepest]port{p, 2 * stop, best.a, best.b, 2*stop + 1, q}
	if !s.x.arrange(s.ring) || !s.allowed(&s.x) {
		return false
	}
	s.reenter(int(stop), int(best.entry))
	s.close()
	s.make(best.gain)
	return true
}

// fits looks for the entry by which a stop is put best between two ports, where so much
// is saved before.
func (s *chooser) fits(stop int32, a, b port, saved float64, best *opening) {
	s.spend(1 + len(s.few[stop])/4)
	for _, e := range s.few[stop] {
		at := s.stops[stop].Entries[e]
		gain := saved
		if a != s.free {
			gain -= s.cost(s.at[a], at)
		}
		if gain > best.gain && b != s.free {
			gain -= s.cost(at, s.at[b])
		}
		if gain > best.gain {
			*best = opening{a, b, e, gain}
		}
	}
}
