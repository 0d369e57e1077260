package tour

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// mostStates is how many ways the table of a proof holds, at most: 25 MB.
const mostStates = 1 << 21

// proven returns the shortest path through a few stops that have many entries, given one
// that a search has found: what cannot become shorter than that is left out of the table of
// exact. Where the stops or their entries are too many, or too little is left out, it is the
// given one.
func proven(b *budget.Budget, stops []stop, start geometry.Point, cost Cost, found []Visit) []Visit {
	k := choices(stops)
	if len(stops) > mostExact || k<<len(stops) > mostStates || k > mostChoices {
		return found
	}
	s := newSubsets(b, stops, cost)
	s.bound = s.boundBy(start, found)
	s.fill(start)
	if s.bound.work > exactWork {
		return found
	}
	if last, ok := s.best(); ok && s.cost[s.at(s.full(), last)] < s.bound.most {
		return s.back(last)
	}
	return found
}

// bound tells which ways through some of the stops can be part of a shorter path.
type bound struct {
	most float64   // what the path that is known costs
	rest []float64 // by set, then stop in it: what is left from there on costs at least
	work int       // transitions that were looked at
}

// boundBy returns the bound by a path. What is left of a way costs no less than the
// shortest one from stop to stop, each left and reached by the entries that are nearest
// to each other.
func (s *subsets) boundBy(start geometry.Point, found []Visit) *bound {
	n, at := len(s.stops), start
	o := &bound{rest: make([]float64, n<<n)}
	for _, v := range found {
		o.most += s.price(at, s.stops[v.Stop].Entries[v.Entry])
		at = s.stops[v.Stop].exit(v.Entry)
	}
	o.most -= leastGain
	apart := s.apart()
	for set := s.full() - 1; set > 0; set-- {
		s.b.Spend(n * n)
		for i := range n {
			if set>>i&1 == 0 {
				continue
			}
			least := math.Inf(1)
			for j := range n {
				if set>>j&1 == 0 && s.need[j]&^set == 0 {
					least = min(least, apart[i*n+j]+o.rest[(set|1<<j)*n+j])
				}
			}
			o.rest[set*n+i] = least
		}
	}
	return o
}

// apart is what it costs at least to go from one stop to another.
func (s *subsets) apart() []float64 {
	n, k := len(s.stops), len(s.all)
	least := make([]float64, n*n)
	for i := range least {
		least[i] = math.Inf(1)
	}
	for g := range s.all {
		s.b.Spend(k)
		for h := range s.all {
			at := s.all[g].stop*n + s.all[h].stop
			least[at] = min(least[at], s.links[g*k+h])
		}
	}
	return least
}

// allows reports whether a way through a set that ends with a choice is gone on with.
func (o *bound) allows(s *subsets, set, last int, cost float64) bool {
	if o == nil {
		return true
	}
	if o.work > exactWork || cost+o.rest[set*len(s.stops)+s.all[last].stop] >= o.most {
		return false
	}
	o.work += len(s.all)
	return true
}
