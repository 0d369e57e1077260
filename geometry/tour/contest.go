package tour

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

const (
	mostBands  = 10    // across which stops are ordered at first, along either axis
	contenders = 16    // orders that are searched on from, of few stops
	ofMore     = 4     // and of more stops
	mostRivals = 2_000 // stops; of more, one order is searched on from
)

// searched orders the stops by so many kicks and so much work, about, and returns the
// search that ended shortest.
//
// A few stops are ordered from several starts, since no exchange of links leads from rows to
// columns. The work is shared among the starts in rounds: after each, the worse half is
// given up, and the others get twice as much each (successive halving; Jamieson and
// Talwalkar, 2016). More stops are so where their order is bound: there the search sticks.
func searched(b *budget.Budget, stops []stop, home int, free port, cost Cost, kicks, work int) *search {
	first, near := newSearch(b, stops, home, free, cost)
	isFew := len(stops) <= mostFew
	if !isFew && (!first.tied || len(stops) > mostRivals) {
		run(first, kicks, work)
		return first
	}
	all, most := []*search{first}, contenders
	for _, seq := range boustrophedons(b, stops, home) {
		all = append(all, newSearchFrom(b, stops, seq, make([]int, len(stops)), free, near, cost))
	}
	if !isFew {
		for _, s := range all {
			s.chooseAll()
		}
		most = ofMore
		all = shortest(all, most)
	}
	for _, s := range all {
		s.begin()
	}
	for n, share := most, 4*most; n > 0; n, share = n/2, share/2 {
		all = shortest(all, n)
		for _, s := range all {
			s.anneal(kicks/share, work/share)
			s.chooseAll()
		}
	}
	return shortest(all, 1)[0]
}

// shortest returns the n shortest searches that differ in length.
func shortest(all []*search, n int) []*search {
	slices.SortStableFunc(all, func(a, b *search) int { return cmp.Compare(a.total(), b.total()) })
	all = slices.CompactFunc(all, func(a, b *search) bool { return b.total() < a.total()+leastGain })
	return all[:min(n, len(all))]
}

// boustrophedons orders the stops, home first, in one to mostBands bands along either axis,
// to and fro. What has to come before a stop is drawn forward to it, and phases follow
// each other.
func boustrophedons(b *budget.Budget, stops []stop, home int) (orders [][]int) {
	box, middles := geometry.EmptyBox(), make([]geometry.Point, len(stops))
	for i := range stops {
		b.Spend(len(stops[i].Entries))
		around := geometry.BoxAround(stops[i].Entries...)
		middles[i] = around.Min.Lerp(around.Max, 0.5)
		if i != home {
			box = box.Union(around)
		}
	}
	for bands := range mostBands {
		for _, turned := range []bool{false, true} {
			inBands := make([]banded, 0, len(stops))
			for i, m := range middles {
				along, across, width := m.X-box.Min.X, m.Y-box.Min.Y, box.Height()
				if turned {
					along, across, width = across, along, box.Width()
				}
				band := 0
				if width > 0 {
					band = min(bands, int(across/width*float64(bands+1)))
				}
				if band%2 == 1 {
					along = -along
				}
				if i != home {
					inBands = append(inBands, banded{stops[i].Phase, band, along, i})
				}
			}
			slices.SortFunc(inBands, banded.compare)
			orders = append(orders, drawnForward(b, stops, home, inBands))
		}
	}
	return orders
}

// banded is where a stop stands in an order by bands.
type banded struct {
	phase, band int
	along       float64
	stop        int
}

func (a banded) compare(b banded) int {
	return cmp.Or(cmp.Compare(a.phase, b.phase), cmp.Compare(a.band, b.band), cmp.Compare(a.along, b.along), cmp.Compare(a.stop, b.stop))
}

// drawnForward returns an order of stops, behind home, in which what has to come before a stop
// comes right before it at the latest.
func drawnForward(b *budget.Budget, stops []stop, home int, inBands []banded) []int {
	rank := make([]int, len(stops))
	for r, at := range inBands {
		rank[at.stop] = r
	}
	order, isIn := append(make([]int, 0, len(stops)), home), make([]bool, len(stops))
	var add func(stop int)
	add = func(stop int) {
		if isIn[stop] {
			return
		}
		isIn[stop] = true
		before := slices.Clone(stops[stop].before)
		b.Spend(1 + len(before))
		slices.SortFunc(before, func(a, b int) int { return cmp.Compare(rank[a], rank[b]) })
		for _, other := range before {
			add(other)
		}
		order = append(order, stop)
	}
	for _, at := range inBands {
		add(at.stop)
	}
	return order
}
