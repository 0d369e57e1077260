package tour

const (
	kickRun  = 10 // stops of a run that a near kick moves, on average
	fewStops = 12 // below which a ring has few double bridges
	kickWalk = 10 // steps between the links that a far kick takes out
)

// kick changes the ring somewhere whatever that costs, and reports whether the
// order of stops allows it.
//
// Most kicks exchange three runs of stops for each other, the first with the
// last: a double bridge (Martin, Otto and Felten, 1991), which no short chain of
// exchanges takes back. Half of them, a quarter where any order is allowed, move
// short runs that follow each other, which mends most for its time; the others take
// out four links near each other in the plane, which may be far apart on the way,
// and so get out of what holds clusters together (Applegate, Cook and Rohe, 2003).
// Where the order is bound, or the stops are few, so that these seldom go, two runs
// change places too. One of the stops is entered anew.
func (s *search) kick() bool {
	s.spend(1)
	s.x.turned = [deepest]bool{}
	kind := s.random(2)
	if !s.tied {
		kind = min(1, s.random(4))
	}
	if (s.tied || len(s.stops) < fewStops) && s.random(2) == 0 {
		s.x.k, s.x.order = 3, [deepest]int8{0, 2, 1}
	} else {
		s.x.k, s.x.order = 4, [deepest]int8{0, 3, 2, 1}
	}
	if kind == 0 && !s.nearGaps() || kind == 1 && !s.farGaps() || !s.allowed(&s.x) {
		return false
	}
	s.bridge()
	return true
}

// nearGaps takes the gaps of a kick from a window of places.
func (s *search) nearGaps() bool {
	n := len(s.stops)
	window := min(3*kickRun, n-1)
	if window < 3 {
		return false
	}
	before := s.random(n - window)
	a, b := s.random(window-1), s.random(window-1)
	if a == b {
		return false
	}
	gaps := [...]int{0, 1 + min(a, b), 1 + max(a, b), window}
	for i := range s.x.k {
		s.x.gap[i] = int32(before + gaps[i])
	}
	return true
}

// farGaps takes the gaps of a kick behind stops on a walk from neighbour to
// neighbour, in the order in which they come on the way.
func (s *search) farGaps() bool {
	v := int32(s.random(len(s.stops)))
	gap := &s.x.gap
	for i := range s.x.k {
		g := s.place(v)
		j := i
		for ; j > 0 && gap[j-1] >= g; j-- {
			if gap[j-1] == g {
				return false
			}
			gap[j] = gap[j-1]
		}
		gap[j] = g
		for range kickWalk {
			if near := s.near[v]; len(near) > 0 {
				v = near[s.random(len(near))].stop
			}
		}
	}
	return true
}

// bridge carries the kick out: the pieces between its gaps follow each other
// backwards, each the way it lay.
func (s *search) bridge() {
	t, k := &s.x.t, s.x.k
	gain := 0.0
	for i, g := range s.x.gap[:k] {
		p, q := s.right(int(g)), s.left(s.next(int(g)))
		t[2*i], t[2*i+1] = p, q
		gain += s.links[p]
	}
	gain -= s.join(t[0], t[2*k-3]) + s.join(t[2], t[2*k-1])
	for i := 1; i < k-1; i++ {
		gain -= s.join(t[2*i+2], t[2*i-1])
	}
	s.make(gain)
	if s.single {
		return
	}
	if stop := t[s.random(2*k)] >> 1; s.varied(stop) {
		s.gain += s.enterAt(stop, s.random(fewEntries))
	}
}

// enterAt enters a stop by one of the entries that are weighed, and returns what that saves.
func (s *chooser) enterAt(stop int32, pick int) float64 {
	before := s.links[2*stop] + s.links[2*stop+1]
	s.reenter(int(stop), int(s.few[stop][pick%len(s.few[stop])]))
	return before - s.links[2*stop] - s.links[2*stop+1]
}

// chances is a fixed sequence of numbers that look drawn (Knuth's MMIX generator,
// the high bits).
type chances struct{ seed uint64 }

// chance is a number from 0 to 1.
func (s *chances) chance() float64 { return float64(s.random(1<<30)) / (1 << 30) }

// random is a number from 0 to n-1.
func (s *chances) random(n int) int {
	s.seed = s.seed*6364136223846793005 + 1442695040888963407
	if n <= 1 {
		return 0
	}
	return int((s.seed >> 33) % uint64(n))
}
