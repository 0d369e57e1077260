package tour

import "slices"

const (
	longestRun = 6      // stops moved together
	kicksEach  = 20     // kicks for each stop, at most
	kicksMost  = 30_000 // kicks of all phases of a pass on one load
	kickWindow = 30     // places that one kick rearranges
	leastGain  = 1e-9   // of cost; less is rounding
)

// search shortens a tour by local moves: runs of stops taken out and put in
// elsewhere (Or-opt), pieces of the tour turned round (2-opt), and other
// entries. A stop tries its neighbours only, and only as long as the new link
// is shorter than the one it replaces (Johnson and McGeoch, 1997). When no
// move helps, a small piece is shuffled and mended again, and kept where that
// is no worse, for a fixed number of times; the shuffles come from a fixed
// sequence, so the same stops give the same tour.
//
// Every change is noted down as reversals and entries, so that it can be undone.
type search struct {
	*tour
	near  [][]int
	dirty []int // stops whose moves are still to be tried
	isDue []bool
	notes []note
	gain  float64 // cost saved by the changes in notes
	seed  uint64
}

// note is one change: the reversal of places i to j, or, where i is -1, the
// entry that stop j had before.
type note struct{ i, j, entry int }

// improve shortens the tour with so many kicks at most.
func (t *tour) improve(kicks int) {
	s := &search{tour: t, isDue: make([]bool, len(t.stops)), seed: 1}
	s.near = nearStops(t.b, t.stops, t.seq)
	for _, stop := range slices.Clone(t.seq) {
		s.due(stop)
	}
	s.settleAll()
	s.descend()
	for range min(kicksEach*len(t.seq), kicks) {
		s.notes, s.gain = s.notes[:0], 0
		if !s.kick() {
			continue
		}
		s.descend()
		if s.gain < -leastGain {
			s.undo()
		}
	}
	s.settleAll()
}

// due puts a stop on the list of those to try.
func (s *search) due(stop int) {
	if !s.isDue[stop] {
		s.isDue[stop] = true
		s.dirty = append(s.dirty, stop)
	}
}

// dueAround puts the stops at the places on the list.
func (s *search) dueAround(places ...int) {
	for _, i := range places {
		if i >= 0 && i < len(s.seq) {
			s.due(s.seq[i])
		}
	}
}

// descend makes moves until none helps.
func (s *search) descend() {
	for i := 0; i < len(s.dirty); i++ {
		stop := s.dirty[i]
		s.isDue[stop] = false
		for s.settle(s.pos[stop]) || s.relink(stop) {
		}
	}
	s.dirty = s.dirty[:0]
}

// settle chooses the entry of the stop at place i that is best between its
// two neighbours in the tour.
func (s *search) settle(i int) bool {
	stop := s.seq[i]
	s.b.Spend(len(s.stops[stop].Entries))
	best, from := s.entry[stop], s.outAt(i-1)
	bestCost := s.link(i) + s.link(i+1)
	old, oldCost := best, bestCost
	for e := range s.stops[stop].Entries {
		s.entry[stop] = e
		c := s.cost(from, s.in(stop))
		if c < bestCost {
			c += s.link(i + 1)
		}
		if c < bestCost-leastGain {
			best, bestCost = e, c
		}
	}
	s.entry[stop] = best
	if best == old {
		return false
	}
	s.notes = append(s.notes, note{-1, stop, old})
	s.gain += oldCost - bestCost
	s.dueAround(i-1, i+1)
	return true
}

// relink tries the moves that bring a stop next to a neighbour.
func (s *search) relink(stop int) bool {
	s.b.Step()
	i := s.pos[stop]
	worst := max(s.link(i), s.link(i+1))
	var near [neighbours]int
	n := 0
	for _, other := range s.near[stop] {
		if s.apart(stop, other) < worst {
			near[n] = s.pos[other]
			n++
		}
	}
	for _, j := range near[:n] {
		if s.turnBetween(i, j) {
			return true
		}
	}
	return n > 0 && s.moveRuns(i, near[:n])
}

// apart is the least cost of a link between two stops as they are entered now.
func (s *search) apart(a, b int) float64 {
	least := s.cost(s.in(a), s.in(b))
	if !s.stops[a].Closed {
		least = min(least, s.cost(s.out(a), s.in(b)))
	}
	if !s.stops[b].Closed {
		least = min(least, s.cost(s.in(a), s.out(b)), s.cost(s.out(a), s.out(b)))
	}
	return least
}

// turnBetween reverses the piece between places i and j so that their stops
// become neighbours, by their far or their near links.
func (s *search) turnBetween(i, j int) bool {
	lo, hi := min(i, j), max(i, j)
	return s.turn(lo+1, hi) || s.turn(lo, hi-1)
}

// turn reverses places i to j if that is allowed and costs less.
func (s *search) turn(i, j int) bool {
	if i >= j {
		return false
	}
	was := s.link(i) + s.link(j+1)
	now := s.cost(s.outAt(i-1), s.outAt(j))
	if now >= was-leastGain {
		return false
	}
	if j+1 < len(s.seq) {
		now += s.cost(s.in(s.seq[i]), s.in(s.seq[j+1]))
	}
	if now >= was-leastGain || !s.mayTurn(i, j) {
		return false
	}
	s.reverse(i, j)
	s.gain += was - now
	s.dueAround(i-1, i, j, j+1)
	return true
}

// moveRuns takes runs of stops that begin or end at place i out and puts them
// in beside one of the places near it.
func (s *search) moveRuns(i int, near []int) bool {
	for n := range min(longestRun, len(s.seq)) {
		if s.moveRun(i, i+n, near) || n > 0 && s.moveRun(i-n, i, near) {
			return true
		}
	}
	return false
}

// moveRun takes the run of places a to b out, where that costs less, and looks
// for a place where it costs less than that.
func (s *search) moveRun(a, b int, near []int) bool {
	if a < 0 || b >= len(s.seq) {
		return false
	}
	saved := s.link(a) + s.link(b+1)
	if b+1 < len(s.seq) {
		saved -= s.cost(s.outAt(a-1), s.in(s.seq[b+1]))
	}
	if saved <= leastGain {
		return false
	}
	for _, j := range near {
		if a <= j && j <= b {
			continue
		}
		if s.put(a, b, j, saved) || s.put(a, b, j-1, saved) {
			return true
		}
	}
	return false
}

// put moves the run of places a to b behind place k, either way round, if that
// is allowed and costs less than was saved by taking it out.
func (s *search) put(a, b, k int, saved float64) bool {
	if k >= a-1 && k <= b {
		return false
	}
	first, last, from := s.seq[a], s.seq[b], s.outAt(k)
	ahead, back := s.cost(from, s.in(first)), s.cost(from, s.out(last))
	if k+1 < len(s.seq) {
		next := s.in(s.seq[k+1])
		was := s.cost(from, next)
		ahead += s.cost(s.out(last), next) - was
		back += s.cost(s.in(first), next) - was
	}
	limit := saved - leastGain
	if min(ahead, back) >= limit || !s.mayPass(a, b, k) {
		return false
	}
	turned := back < ahead && s.mayTurn(a, b)
	cost := ahead
	if turned {
		cost = back
	}
	if cost >= limit {
		return false
	}
	s.shift(a, b, k, turned)
	s.gain += saved - cost
	return true
}

// shift carries the move of put out as reversals.
func (s *search) shift(a, b, k int, turned bool) {
	n := b - a
	if k > b {
		s.reverse(a, k)
		s.reverse(a, k-n-1)
		if !turned {
			s.reverse(k-n, k)
		}
		s.dueAround(a-1, a, k-n-1, k-n, k, k+1)
		return
	}
	s.reverse(k+1, b)
	s.reverse(k+n+2, b)
	if !turned {
		s.reverse(k+1, k+n+1)
	}
	s.dueAround(k, k+1, k+n+1, k+n+2, b, b+1)
}
