package passes

import (
	"slices"

	"knifedesk/geometry"
)

// RoundTrip returns the cost of the closed tour that the search finds through
// groups of points, one of each group, from the single point of the first
// group and back to it: the last stop is that point again, behind all others.
func RoundTrip(groups [][]geometry.Point, cost func(p, q geometry.Point) float64) float64 {
	home := groups[0][0]
	stops := make([]stop, len(groups))
	members := make([]int, len(groups))
	last := len(stops) - 1
	for i, g := range groups[1:] {
		stops[i] = stop{closed: true, entries: g, after: []int{last}}
		stops[last].before = append(stops[last].before, i)
	}
	stops[last].closed, stops[last].entries = true, []geometry.Point{home}
	for i := range members {
		members[i] = i
	}
	return searched(stops, members, home, cost)
}

// Stop is a stroke for Shortest: its entries, whether it is closed, and the
// stops that have to come after it.
type Stop struct {
	Entries []geometry.Point
	Closed  bool
	After   []int
}

// Shortest returns the costs of the open paths from start that the machine
// would take, and that the search alone finds.
func Shortest(given []Stop, start geometry.Point, cost func(p, q geometry.Point) float64) (taken, found float64) {
	stops := make([]stop, len(given))
	members := make([]int, len(given))
	for i, s := range given {
		stops[i] = stop{closed: s.Closed, entries: s.Entries, after: s.After}
		members[i] = i
	}
	connect(stops)
	t := newTour(stops, slices.Clone(members), make([]int, len(stops)), start, cost)
	t.shorten(kicksMost)
	return t.total(), searched(stops, members, start, cost)
}

func searched(stops []stop, members []int, start geometry.Point, cost func(p, q geometry.Point) float64) float64 {
	t := newTour(stops, members, make([]int, len(stops)), start, cost)
	t.nearest()
	t.improve(kicksMost)
	return t.total()
}

func (t *tour) total() float64 {
	total := 0.0
	for i := range t.seq {
		total += t.link(i)
	}
	return total
}
