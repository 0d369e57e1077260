package tour

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
)

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

// Sequence returns an order of numbers, the first of them first, in which each
// comes before those in after, and what it costs: the search alone, with costs
// from a table and as neighbours those that cost least.
func Sequence(after [][]int, table [][]float64, kicks int) (order []int, total float64) {
	given := make([]Stop, len(table)-1)
	near := make([][]int32, len(table))
	for i := range table {
		var all []int32
		for j := range given {
			if j+1 != i {
				all = append(all, int32(j))
			}
		}
		slices.SortStableFunc(all, func(a, b int32) int { return cmp.Compare(table[i][a+1], table[i][b+1]) })
		near[(i+len(given))%len(table)] = all[:min(12, len(all))]
		if i > 0 {
			given[i-1] = Stop{Closed: true, Entries: []geometry.Point{geometry.Pt(float64(i), 0)}}
			for _, later := range after[i] {
				given[i-1].After = append(given[i-1].After, later-1)
			}
		}
	}
	cost := func(p, q geometry.Point) float64 { return table[int(p.X)][int(q.X)] }
	stops, home := rest(connect(nil, given), geometry.Point{})
	seq, entry := greedy(nil, stops, home)
	s := newSearchFrom(nil, stops, seq, entry, port(2*home), near, cost)
	s.run(kicks, kicks*1000)
	for i := range given {
		order = append(order, int(s.left(i+1)>>1)+1)
	}
	return order, s.total()
}
