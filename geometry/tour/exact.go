package tour

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

const (
	mostExact   = 12      // stops that exact orders
	mostChoices = 1 << 10 // their entries in all
	exactWork   = 1 << 23 // transitions that it looks at: about 30 ms
)

// exact finds the shortest path through a few stops by dynamic programming over
// subsets and the entry of the last stop (Held and Karp, 1962). It returns
// false where the stops or their entries are too many, or their order is none.
func exact(b *budget.Budget, stops []stop, start geometry.Point, cost Cost) ([]Visit, bool) {
	k := choices(stops)
	if len(stops) > mostExact || k > mostChoices || (1<<len(stops))*k*k > exactWork {
		return nil, false
	}
	s := newSubsets(b, stops, cost)
	s.fill(start)
	last, ok := s.best()
	if !ok {
		return nil, false
	}
	return s.back(last), true
}

// subsets is the table of shortest ways through sets of stops, by the choice
// that ends them.
type subsets struct {
	b     *budget.Budget
	stops []stop
	all   []choice
	links []float64 // from choice to choice
	need  []int     // by stop: the set of stops that come before it
	cost  []float64 // by set, then last choice
	from  []int32   // the choice before; -1: the start
	price Cost
	bound *bound // of what a way may cost; nil: any
}

// choice is one stop, entered in one of its ways.
type choice struct {
	stop, entry int
	in, out     geometry.Point
}

// choices is how many there are in all.
func choices(stops []stop) int {
	k := 0
	for i := range stops {
		k += len(stops[i].Entries)
	}
	return k
}

// newSubsets makes the empty table.
func newSubsets(b *budget.Budget, stops []stop, cost Cost) *subsets {
	n := len(stops)
	s := &subsets{b: b, stops: stops, need: predecessors(stops), price: cost}
	for i := range stops {
		for e, in := range stops[i].Entries {
			s.all = append(s.all, choice{i, e, in, stops[i].exit(e)})
		}
	}
	k := len(s.all)
	s.cost, s.from, s.links = make([]float64, k<<n), make([]int32, k<<n), make([]float64, k*k)
	for i := range s.cost {
		s.cost[i] = math.Inf(1)
	}
	for g, from := range s.all {
		b.Spend(k)
		for h, to := range s.all {
			s.links[g*k+h] = cost(from.out, to.in)
		}
	}
	return s
}

// predecessors returns, by stop, the set of stops that come before it.
func predecessors(stops []stop) []int {
	need := make([]int, len(stops))
	for i := range stops {
		for _, before := range stops[i].before {
			need[i] |= 1 << before
		}
		for j := range stops {
			if stops[j].Phase < stops[i].Phase {
				need[i] |= 1 << j
			}
		}
	}
	return need
}

// full is the set of all stops.
func (s *subsets) full() int { return 1<<len(s.stops) - 1 }

// at is the place in the table of a set that ends with a choice.
func (s *subsets) at(set, last int) int { return set*len(s.all) + last }

// relax notes a way through a set if it is the shortest so far.
func (s *subsets) relax(set, last int, from int32, cost float64) {
	if at := s.at(set, last); cost < s.cost[at] {
		s.cost[at], s.from[at] = cost, from
	}
}

// fill finds the shortest way through every set.
func (s *subsets) fill(start geometry.Point) {
	for g, c := range s.all {
		if s.need[c.stop] == 0 {
			s.relax(1<<c.stop, g, -1, s.price(start, c.in))
		}
	}
	for set := 1; set < s.full(); set++ {
		s.b.Spend(len(s.all))
		for g := range s.all {
			if c := s.cost[s.at(set, g)]; !math.IsInf(c, 1) && s.bound.allows(s, set, g, c) {
				s.extend(set, g, c)
			}
		}
	}
}

// extend goes from the last choice of a set to each that may come next.
func (s *subsets) extend(set, last int, cost float64) {
	s.b.Spend(len(s.all))
	links := s.links[last*len(s.all):]
	for h := range s.all {
		if next := s.all[h].stop; set>>next&1 == 0 && s.need[next]&^set == 0 {
			s.relax(set|1<<next, h, int32(last), cost+links[h])
		}
	}
}

// best returns the choice that ends the shortest path, and whether there is one.
func (s *subsets) best() (last int, ok bool) {
	full := s.full()
	for g := range s.all {
		if s.cost[s.at(full, g)] < s.cost[s.at(full, last)] {
			last = g
		}
	}
	return last, !math.IsInf(s.cost[s.at(full, last)], 1)
}

// back follows the table from the last choice of the path to its first.
func (s *subsets) back(last int) []Visit {
	visits := make([]Visit, len(s.stops))
	set := s.full()
	for i := len(visits) - 1; i >= 0; i-- {
		c := s.all[last]
		visits[i] = Visit{c.stop, c.entry}
		before := s.from[s.at(set, last)]
		set &^= 1 << c.stop
		last = int(before)
	}
	return visits
}
