package tour

import "knifedesk/geometry"

// RoundTrip returns the cost of the closed tour that the search finds through
// groups of points, one of each group, from the single point of the first
// group and back to it: the last stop is that point again, behind all others.
func RoundTrip(groups [][]geometry.Point, cost Cost) float64 {
	home := groups[0][0]
	stops := make([]Stop, len(groups))
	last := len(stops) - 1
	for i, g := range groups[1:] {
		stops[i] = Stop{Closed: true, Entries: g, After: []int{last}}
	}
	stops[last] = Stop{Closed: true, Entries: []geometry.Point{home}}
	return searched(connect(nil, stops), home, cost)
}

// Shortest returns the costs of the open paths from start that the machine
// would take, and that the search alone finds.
func Shortest(given []Stop, start geometry.Point, cost Cost) (taken, found float64) {
	stops := connect(nil, given)
	t := newTour(nil, stops, all(stops), make([]int, len(stops)), start, cost)
	t.shorten(kicksMost)
	return t.total(), searched(stops, start, cost)
}

func searched(stops []stop, start geometry.Point, cost Cost) float64 {
	t := newTour(nil, stops, all(stops), make([]int, len(stops)), start, cost)
	t.nearest()
	t.improve(kicksMost)
	return t.total()
}

func all(stops []stop) []int {
	members := make([]int, len(stops))
	for i := range members {
		members[i] = i
	}
	return members
}

func (t *tour) total() float64 {
	total := 0.0
	for i := range t.seq {
		total += t.link(i)
	}
	return total
}
