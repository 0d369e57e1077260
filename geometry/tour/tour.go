// Package tour finds a short open path through stops that can each be entered
// at several points, some of them before others.
//
// A few stops are ordered exactly, more of them by a local search. The search
// counts what it does, so the same stops give the same tour on every machine.
package tour

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Stop is a line to be drawn on the way: where it can be entered. A closed one
// ends where it started; an open one has two entries and ends at the other.
type Stop struct {
	Entries []geometry.Point // at least one
	Closed  bool
	Phase   int   // stops of a lower phase come earlier
	After   []int // stops, by number, that have to come later; they form no circle
}

// exit is where a stop is left that was entered at the given entry.
func (s *Stop) exit(entry int) geometry.Point {
	if s.Closed {
		return s.Entries[entry]
	}
	return s.Entries[1-entry]
}

// Visit is a stop of a tour, by number, and the entry by which it is reached.
type Visit struct{ Stop, Entry int }

// Cost is what going from p to q costs, in seconds for instance. It depends on the
// way along each axis alone, and is no less where one of them is longer.
type Cost func(p, q geometry.Point) float64

const (
	kicksEach = 100       // kicks for each stop, at most
	workAny   = 250_000   // steps of all kicks, at most: about 12 ms
	workEach  = 40        // and for each stop
	workMost  = 3_000_000 // in all
)

// Through returns a tour from start through all stops. Phases follow each
// other, where a stop is pulled into the phase of the earliest one that has to
// come after it; within a phase the order keeps to After, and the cost of going
// from stop to stop is made small.
func Through(b *budget.Budget, given []Stop, start geometry.Point, cost Cost) []Visit {
	return through(b, given, start, cost, 1)
}

// through is Through with more or fewer kicks.
func through(b *budget.Budget, given []Stop, start geometry.Point, cost Cost, effort int) []Visit {
	if len(given) == 0 {
		return nil
	}
	stops := connect(b, given)
	if visits, ok := exact(b, stops, start, cost); ok {
		return visits
	}
	stops, home := rest(stops, start)
	s := searched(b, stops, home, port(2*home), cost, effort*kicksEach*len(stops), effort*min(workAny+workEach*len(stops), workMost))
	visits := make([]Visit, len(given))
	for i := range given {
		visits[i] = s.visit(i + 1)
	}
	return proven(b, stops[:len(given)], start, cost, visits)
}

// stop is a Stop as the search sees it.
type stop struct {
	Stop
	before []int // stops that have to come earlier
}

// connect fills in before, and pulls a stop into the phase of the earliest one
// that has to come after it.
func connect(b *budget.Budget, given []Stop) []stop {
	stops := make([]stop, len(given))
	for i, s := range given {
		stops[i].Stop = s
	}
	for changed := true; changed; {
		changed = false
		for i := range stops {
			b.Spend(1 + len(stops[i].After))
			for _, later := range stops[i].After {
				if stops[later].Phase < stops[i].Phase {
					stops[i].Phase, changed = stops[later].Phase, true
				}
			}
		}
	}
	for i := range stops {
		b.Spend(1 + len(stops[i].After))
		for _, later := range stops[i].After {
			stops[later].before = append(stops[later].before, i)
		}
	}
	return stops
}

// phases groups the stops by phase, the lowest first.
func phases(stops []stop, home int) [][]int {
	var numbers []int
	by := map[int][]int{}
	for i, s := range stops {
		if i == home {
			continue
		}
		if by[s.Phase] == nil {
			numbers = append(numbers, s.Phase)
		}
		by[s.Phase] = append(by[s.Phase], i)
	}
	slices.Sort(numbers)
	groups := make([][]int, len(numbers))
	for i, n := range numbers {
		groups[i] = by[n]
	}
	return groups
}
