package tour

import (
	"cmp"
	"fmt"
	"slices"

	"knifedesk/geometry"
)

// KicksMost is how many kicks are made in about a second.
const KicksMost = 15_000

// RoundTrip returns the cost of the closed tour that the search finds with so
// many kicks through groups of points, one of each group.
func RoundTrip(groups [][]geometry.Point, cost Cost, kicks int) float64 {
	given := make([]Stop, len(groups))
	for i, g := range groups {
		given[i] = Stop{Closed: true, Entries: g}
	}
	work := 12_000_000 // steps of about a second
	if len(given) <= mostFew {
		work *= 2 // which are quicker
	}
	return searched(nil, connect(nil, given), 0, -1, cost, kicks, work).total()
}

// Shortest returns the costs of the open paths from start that Through takes,
// and that the search alone finds.
func Shortest(given []Stop, start geometry.Point, cost Cost) (taken, found float64) {
	taken = Length(given, Through(nil, given, start, cost), start, cost)
	stops, home := rest(connect(nil, given), start)
	return taken, searched(nil, stops, home, port(2*home), cost, kicksEach*len(stops), workAny).total()
}

// ThroughLonger is Through with so many times the kicks.
func ThroughLonger(given []Stop, start geometry.Point, cost Cost, effort int) []Visit {
	return through(nil, given, start, cost, effort)
}

// LinksAgree says where the links that a search has left are not those of its order.
func LinksAgree(given []Stop, cost Cost) error {
	stops, home := rest(connect(nil, given), geometry.Point{})
	s, _ := newSearch(nil, stops, home, port(2*home), cost)
	run(s, kicksEach*len(stops), workAny)
	for i := range stops {
		p, q := s.right(i), s.left(s.next(i))
		if s.mates[p] != q || s.mates[q] != p {
			return fmt.Errorf("place %d is linked to %d and not to %d", i, s.mates[p], q)
		}
		if c := s.d(p, q); s.links[p] != c || s.links[q] != c {
			return fmt.Errorf("the link of place %d costs %g, not %g", i, c, s.links[p])
		}
	}
	return nil
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
	seq, entry := greedy(nil, newPlaces(nil, stops, home), stops, home)
	s := newSearchFrom(nil, stops, seq, entry, port(2*home), near, cost)
	run(s, kicks, kicks*1000)
	for i := range given {
		order = append(order, int(s.left(i+1)>>1)+1)
	}
	return order, s.total()
}

// BlocksAgree exchanges pieces of an order of n stops so many times, in blocks and in an
// array, and says where they differ.
func BlocksAgree(n, times int, random func(int) int) error {
	ports := make([]port, n)
	for i := range ports {
		ports[i] = port(2*i + random(2))
	}
	ports[0] = 0
	stops := make([]stop, n)
	bare := func() *ring {
		return &ring{stops: stops, at: make([]geometry.Point, 2*n), mates: make([]port, 2*n), links: make([]float64, 2*n), free: -1, cost: func(p, q geometry.Point) float64 { return 0 }}
	}
	flat, many := bare(), bare()
	flat.ports, flat.pos = slices.Clone(ports), make([]int32, n)
	for i, p := range ports {
		flat.pos[p>>1] = int32(i)
	}
	many.blocks = newBlocks(nil, ports)
	for k := range times {
		x := drawn(n, random)
		before := slices.Clone(flat.ports)
		flat.settled()
		many.settled()
		flat.reorder(&exchange{shuffle: x})
		many.reorder(&exchange{shuffle: x})
		if k%3 == 0 {
			flat.undo()
			many.undo()
			if !slices.Equal(flat.ports, before) {
				return fmt.Errorf("exchange %d is not taken back", k)
			}
		}
		for i := range n {
			p := flat.left(i)
			if many.left(i) != p || many.place(p>>1) != int32(i) || !many.isLeft(p, int32(i)) {
				return fmt.Errorf("exchange %d: place %d", k, i)
			}
		}
		if !slices.Equal(many.list(0, n-1), flat.ports) {
			return fmt.Errorf("exchange %d: the list differs", k)
		}
		if most := 4*n/blockSize + 2*deepest; len(many.blocks.order) > most {
			return fmt.Errorf("exchange %d: %d blocks", k, len(many.blocks.order))
		}
	}
	return nil
}

// drawn is any exchange of pieces of n stops.
func drawn(n int, random func(int) int) shuffle {
	x := shuffle{k: 2 + random(deepest-1)}
	at := map[int32]bool{}
	for len(at) < x.k {
		at[int32(random(n))] = true
	}
	var gaps []int32
	for g := range at {
		gaps = append(gaps, g)
	}
	slices.Sort(gaps)
	copy(x.gap[:], gaps)
	for i := 1; i < x.k; i++ {
		x.order[i], x.turned[i] = int8(i), random(2) == 0
	}
	for i := 1; i < x.k; i++ {
		j := 1 + random(i)
		x.order[i], x.order[j] = x.order[j], x.order[i]
	}
	return x
}
