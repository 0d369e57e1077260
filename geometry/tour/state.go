package tour

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// tour is an open path through stops from a fixed point.
type tour struct {
	b     *budget.Budget
	stops []stop
	seq   []int // the order
	pos   []int // place in seq by stop, -1 for stops of other phases
	entry []int // chosen entry by stop
	start geometry.Point
	cost  Cost
}

func newTour(b *budget.Budget, stops []stop, members []int, entry []int, start geometry.Point, cost Cost) *tour {
	b.Spend(len(stops))
	t := &tour{b: b, stops: stops, seq: members, pos: make([]int, len(stops)), entry: entry, start: start, cost: cost}
	for i := range t.pos {
		t.pos[i] = -1
	}
	for i, s := range t.seq {
		t.pos[s] = i
	}
	return t
}

// shorten orders the stops: exactly where they are few, else by the nearest
// next and a local search with so many kicks.
func (t *tour) shorten(kicks int) {
	if !t.exact() {
		t.nearest()
		t.improve(kicks)
	}
}

// in and out are where a stop is entered and left.
func (t *tour) in(s int) geometry.Point { return t.stops[s].Entries[t.entry[s]] }

func (t *tour) out(s int) geometry.Point { return t.stops[s].exit(t.entry[s]) }

// link is the cost of reaching place i from the one before; past the end it
// is zero, since the path may end anywhere.
func (t *tour) link(i int) float64 {
	if i >= len(t.seq) {
		return 0
	}
	return t.cost(t.outAt(i-1), t.in(t.seq[i]))
}

// outAt is where the stop at place i is left; place -1 is the start.
func (t *tour) outAt(i int) geometry.Point {
	if i < 0 {
		return t.start
	}
	return t.out(t.seq[i])
}
