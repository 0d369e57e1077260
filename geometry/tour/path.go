package tour

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// rest adds the stop where the machine rests, which is home: it ends at start,
// and its other end is free.
func rest(stops []stop, start geometry.Point) (all []stop, home int) {
	all = append(slices.Clip(stops), stop{Stop: Stop{Entries: []geometry.Point{start, start}, Phase: math.MinInt}})
	return all, len(stops)
}

// newSearch returns the search that starts from the nearest next stop, and which stops
// are near each.
func newSearch(b *budget.Budget, stops []stop, home int, free port, cost Cost) (*search, [][]int32) {
	but := home
	if free < 0 {
		but = -1
	}
	found := newPlaces(b, stops, but)
	seq, entry := greedy(b, found, stops, home)
	near := found.nearStops()
	return newSearchFrom(b, stops, seq, entry, free, near, cost), near
}

// newSearchFrom returns the search that starts from an order of stops.
func newSearchFrom(b *budget.Budget, stops []stop, seq, entry []int, free port, near [][]int32, cost Cost) *search {
	r := newRing(b, stops, seq, entry, free, cost)
	s := &search{ring: r, chooser: chooser{ring: r}, isDue: make([]bool, len(stops)), chances: chances{1}}
	s.single = true
	for i := range stops {
		s.tied = s.tied || len(stops[i].After) > 0 || i != seq[0] && stops[i].Phase != stops[seq[1]].Phase
		s.single = s.single && (len(stops[i].Entries) == 1 || port(2*i) == free)
	}
	s.fewTied = s.tied && len(stops) <= mostFew
	s.measure(near)
	if !s.single {
		s.seen = make([]int, len(stops))
		s.thin()
	}
	for _, stop := range seq {
		s.due(int32(stop))
	}
	return s
}

// neighbour is a stop that another may be linked to, and what that costs: at least, where
// they have several entries.
type neighbour struct {
	stop  int32
	apart float64
}

// measure notes down how far apart neighbours are: the boxes of their entries, where they
// have several.
func (s *search) measure(near [][]int32) {
	boxes := make([]geometry.Box, len(s.stops))
	count := 0
	for i := range s.stops {
		s.b.Spend(1 + len(s.stops[i].Entries)/8)
		boxes[i] = geometry.BoxAround(s.stops[i].Entries...)
		count += len(near[i])
	}
	s.near = make([][]neighbour, len(near))
	all := make([]neighbour, 0, count)
	for i := range near {
		s.b.Spend(1 + len(near[i]))
		from := len(all)
		for _, j := range near[i] {
			n := neighbour{j, 0}
			if s.single {
				n.apart = s.d(port(2*i+1), 2*j)
			} else {
				n.apart = s.cost(geometry.Point{}, gap(boxes[i], boxes[j]))
			}
			all = append(all, n)
		}
		s.near[i] = all[from:len(all):len(all)]
		slices.SortStableFunc(s.near[i], func(p, q neighbour) int { return cmp.Compare(p.apart, q.apart) })
	}
}

// gap is how far apart two boxes are along each axis.
func gap(a, b geometry.Box) geometry.Point {
	return geometry.Pt(
		math.Max(0, math.Max(b.Min.X-a.Max.X, a.Min.X-b.Max.X)),
		math.Max(0, math.Max(b.Min.Y-a.Max.Y, a.Min.Y-b.Max.Y)))
}

// run shortens the order with so many kicks, or so much work, at most.
func run(s *search, kicks, work int) {
	s.begin()
	if len(s.stops) > manyStops {
		kicks, work = kicks/shareOfMany, work/shareOfMany
	}
	s.anneal(kicks, work)
	s.chooseAll()
}

// begin shortens the order without kicks.
func (s *search) begin() {
	s.final = true
	s.chooseAll()
	s.descend()
	s.final = false
}

// chooseAll chooses the entries of all stops but home at once, the best there
// are for the order as it stands.
func (s *search) chooseAll() {
	if !s.single && len(s.stops) > 1 {
		most := mostEntries
		if len(s.stops) > manyStops {
			most = fewEntries
		}
		s.choose(1, len(s.stops)-1, most)
	}
}

// total is the cost of all links.
func (s *search) total() float64 {
	total := 0.0
	for i := range s.stops {
		total += s.links[s.right(i)]
	}
	return total
}
