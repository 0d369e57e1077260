package tour

import (
	"math"

	"knifedesk/geometry"
)

const (
	mostExact = 12      // stops that exact orders
	exactWork = 1 << 21 // transitions that it looks at: about 10 ms
)

// exact finds the shortest tour of a few stops by dynamic programming over
// subsets and the entry of the last stop (Held and Karp, 1962). It returns
// false, and changes nothing, where the stops or their entries are too many.
func (t *tour) exact() bool {
	s := t.subsets()
	if s == nil {
		return false
	}
	s.fill()
	last, ok := s.best()
	if !ok {
		return false // the predecessors run in a circle
	}
	t.take(s.back(last))
	return true
}

// subsets is the table of shortest ways through sets of members, by the choice
// that ends them.
type subsets struct {
	*tour
	all  []choice
	need []int     // by member: the set of members that come before it
	cost []float64 // by set, then last choice
	from []int32   // the choice before; -1: the start
}

// choice is one member of the tour, entered in one of its ways.
type choice struct {
	member, entry int
	in, out       geometry.Point
}

// subsets makes the empty table, nil where it would be too large.
func (t *tour) subsets() *subsets {
	n := len(t.seq)
	if n > mostExact {
		return nil
	}
	s := &subsets{tour: t, need: t.predecessors()}
	for m, number := range t.seq {
		stop := &t.stops[number]
		for e, in := range stop.Entries {
			s.all = append(s.all, choice{m, e, in, stop.exit(e)})
		}
	}
	k := len(s.all)
	if (1<<n)*k*k > exactWork {
		return nil
	}
	s.cost, s.from = make([]float64, k<<n), make([]int32, k<<n)
	for i := range s.cost {
		s.cost[i] = math.Inf(1)
	}
	return s
}

// predecessors returns, by member, the set of members that come before it.
func (t *tour) predecessors() []int {
	need := make([]int, len(t.seq))
	for m, s := range t.seq {
		for _, b := range t.stops[s].before {
			if p := t.pos[b]; p >= 0 {
				need[m] |= 1 << p
			}
		}
	}
	return need
}

// full is the set of all members.
func (s *subsets) full() int { return 1<<len(s.seq) - 1 }

// at is the place in the table of a set that ends with a choice.
func (s *subsets) at(set, last int) int { return set*len(s.all) + last }

// relax notes a way through a set if it is the shortest so far.
func (s *subsets) relax(set, last int, from int32, cost float64) {
	if at := s.at(set, last); cost < s.cost[at] {
		s.cost[at], s.from[at] = cost, from
	}
}

// fill finds the shortest way through every set.
func (s *subsets) fill() {
	for g, c := range s.all {
		if s.need[c.member] == 0 {
			s.relax(1<<c.member, g, -1, s.tour.cost(s.start, c.in))
		}
	}
	for set := 1; set < s.full(); set++ {
		s.b.Spend(len(s.all))
		for g := range s.all {
			if c := s.cost[s.at(set, g)]; !math.IsInf(c, 1) {
				s.extend(set, g, c)
			}
		}
	}
}

// extend goes from the last choice of a set to each that may come next.
func (s *subsets) extend(set, last int, cost float64) {
	s.b.Spend(len(s.all))
	out := s.all[last].out
	for h, next := range s.all {
		if set>>next.member&1 == 0 && s.need[next.member]&^set == 0 {
			s.relax(set|1<<next.member, h, int32(last), cost+s.tour.cost(out, next.in))
		}
	}
}

// best returns the choice that ends the shortest tour, and whether there is one.
func (s *subsets) best() (last int, ok bool) {
	full := s.full()
	for g := range s.all {
		if s.cost[s.at(full, g)] < s.cost[s.at(full, last)] {
			last = g
		}
	}
	return last, !math.IsInf(s.cost[s.at(full, last)], 1)
}

// back follows the table from the last choice of the tour to its first.
func (s *subsets) back(last int) []choice {
	order := make([]choice, len(s.seq))
	set := s.full()
	for i := len(order) - 1; i >= 0; i-- {
		order[i] = s.all[last]
		before := s.from[s.at(set, last)]
		set &^= 1 << order[i].member
		last = int(before)
	}
	return order
}

// take puts the members of the tour in the order of the choices.
func (t *tour) take(order []choice) {
	seq := make([]int, len(order))
	for i, c := range order {
		seq[i] = t.seq[c.member]
		t.entry[seq[i]] = c.entry
	}
	copy(t.seq, seq)
	for i, s := range t.seq {
		t.pos[s] = i
	}
}
