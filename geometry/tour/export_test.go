package tour

import "knifedesk/geometry"

// KicksMost is how often the search kicks a large tour.
const KicksMost = kicksMost

// RoundTrip returns the cost of the closed tour that the search finds with so
// many kicks through groups of points, one of each group.
func RoundTrip(groups [][]geometry.Point, cost Cost, kicks int) float64 {
	given := make([]Stop, len(groups))
	for i, g := range groups {
		given[i] = Stop{Closed: true, Entries: g}
	}
	s := newSearch(nil, connect(nil, given), 0, -1, cost)
	s.run(kicks, workMost)
	return s.total()
}

// Shortest returns the costs of the open paths from start that Through takes,
// and that the search alone finds.
func Shortest(given []Stop, start geometry.Point, cost Cost) (taken, found float64) {
	taken = Length(given, Through(nil, given, start, cost), start, cost)
	stops, home := rest(connect(nil, given), start)
	s := newSearch(nil, stops, home, port(2*home), cost)
	s.run(kicksEach*len(stops), workMost)
	return taken, s.total()
}

// ThroughLonger is Through with so many times the kicks.
func ThroughLonger(given []Stop, start geometry.Point, cost Cost, effort int) []Visit {
	return through(nil, given, start, cost, effort)
}

// Length is what a path of visits costs.
func Length(stops []Stop, path []Visit, start geometry.Point, cost Cost) float64 {
	total := 0.0
	for _, v := range path {
		s := &stops[v.Stop]
		total += cost(start, s.Entries[v.Entry])
		start = s.exit(v.Entry)
	}
	return total
}
