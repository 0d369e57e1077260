package tour

// reverse turns places i to j round; open stops are run the other way.
func (s *search) reverse(i, j int) {
	s.notes = append(s.notes, note{i, j, 0})
	s.flip(i, j)
}

func (s *search) flip(i, j int) {
	s.b.Spend(j - i + 1)
	for ; i <= j; i, j = i+1, j-1 {
		a, b := s.seq[i], s.seq[j]
		s.seq[i], s.seq[j] = b, a
		s.pos[a], s.pos[b] = j, i
		s.turnStop(a)
		if a != b {
			s.turnStop(b)
		}
	}
}

func (s *search) turnStop(stop int) {
	if !s.stops[stop].Closed {
		s.entry[stop] = 1 - s.entry[stop]
	}
}

// undo takes all noted changes back.
func (s *search) undo() {
	for len(s.notes) > 0 {
		n := s.notes[len(s.notes)-1]
		s.notes = s.notes[:len(s.notes)-1]
		if n.i < 0 {
			s.entry[n.j] = n.entry
			continue
		}
		s.flip(n.i, n.j)
	}
}

// mayTurn reports whether no stop in places i to j has to come before another
// one of them.
func (s *search) mayTurn(i, j int) bool {
	for k := i; k < j; k++ {
		s.b.Spend(1 + len(s.stops[s.seq[k]].After))
		for _, later := range s.stops[s.seq[k]].After {
			if p := s.pos[later]; p > k && p <= j {
				return false
			}
		}
	}
	return true
}

// mayPass reports whether the stops of places a to b may change sides with
// those between them and place k.
func (s *search) mayPass(a, b, k int) bool {
	for i := a; i <= b; i++ {
		s.b.Spend(1 + len(s.stops[s.seq[i]].After) + len(s.stops[s.seq[i]].before))
		if k > b {
			for _, later := range s.stops[s.seq[i]].After {
				if p := s.pos[later]; p > b && p <= k {
					return false
				}
			}
			continue
		}
		for _, earlier := range s.stops[s.seq[i]].before {
			if p := s.pos[earlier]; p > k && p < a {
				return false
			}
		}
	}
	return true
}

// kick swaps two neighbouring runs of stops somewhere, whatever that costs,
// and reports whether the order allows it.
func (s *search) kick() bool {
	s.b.Step()
	n := len(s.seq)
	if n < 2 {
		return false
	}
	window := min(kickWindow, n)
	a := s.random(n - window + 1)
	cut1, cut2, cut3 := a+s.random(window-1), a+s.random(window-1), 0
	if cut1 > cut2 {
		cut1, cut2 = cut2, cut1
	}
	cut2++
	cut3 = cut2 + s.random(a+window-cut2)
	if cut3 < cut2 {
		return false
	}
	// Runs [cut1, cut2-1] and [cut2, cut3] change places.
	if !s.mayPass(cut1, cut2-1, cut3) {
		return false
	}
	was := s.link(cut1) + s.link(cut2) + s.link(cut3+1)
	b := cut1 + cut3 - cut2 + 1
	s.shift(cut1, cut2-1, cut3, false)
	s.gain += was - s.link(cut1) - s.link(b) - s.link(cut3+1)
	return true
}

// random returns a number below n from a fixed sequence (Knuth's MMIX
// generator, the high bits).
func (s *search) random(n int) int {
	s.seed = s.seed*6364136223846793005 + 1442695040888963407
	if n <= 1 {
		return 0
	}
	return int((s.seed >> 33) % uint64(n))
}
