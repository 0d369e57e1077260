package tour

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

const (
	neighbours = 8  // stops that a move may bring next to one
	sampled    = 12 // entries by which a stop is found
)

// nearList is the nearest stops found so far, the nearest first.
type nearList struct {
	own   int
	stops [neighbours]int
	dists [neighbours]float64
	n     int
}

// offer takes a stop at distance d in, where it is near enough, and returns
// the distance beyond which none is.
func (l *nearList) offer(r entryRef, d float64) float64 {
	if r.stop == l.own || d >= l.reach() {
		return l.reach()
	}
	at := l.n
	for i := range l.n {
		if l.stops[i] == r.stop {
			at = i
			break
		}
	}
	switch {
	case at < l.n && l.dists[at] <= d:
		return l.reach()
	case at == neighbours:
		at--
	case at == l.n:
		l.n++
	}
	for ; at > 0 && l.dists[at-1] > d; at-- {
		l.stops[at], l.dists[at] = l.stops[at-1], l.dists[at-1]
	}
	l.stops[at], l.dists[at] = r.stop, d
	return l.reach()
}

func (l *nearList) reach() float64 {
	if l.n < neighbours {
		return math.Inf(1)
	}
	return l.dists[neighbours-1]
}

// nearStops lists for every member the members with the nearest entries. A
// stop is found by entries picked evenly, sampled of them at most.
func nearStops(b *budget.Budget, stops []stop, members []int) [][]int {
	b.Spend(len(stops))
	thin := make([]stop, len(stops))
	for _, s := range members {
		all := stops[s].Entries
		step := 1 + (len(all)-1)/sampled
		for k := 0; k < len(all); k += step {
			thin[s].Entries = append(thin[s].Entries, all[k])
		}
	}
	grid := newEntryGrid(b, thin, members)
	for _, s := range members {
		grid.add(s)
	}
	near := make([][]int, len(stops))
	for _, s := range members {
		near[s] = nearTo(grid, s, thin[s].Entries)
	}
	return near
}

func nearTo(grid *entryGrid, s int, entries []geometry.Point) []int {
	list := nearList{own: s}
	for _, p := range entries {
		grid.around(p, list.offer)
	}
	return append([]int(nil), list.stops[:list.n]...)
}
