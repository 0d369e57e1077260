package tour

import (
	"knifedesk/geometry/budget"
)

// greedy orders the stops by always going to the nearest entry of a stop whose
// predecessors are done, from home on, a phase at a time.
func greedy(b *budget.Budget, stops []stop, home int) (seq, entry []int) {
	entry = make([]int, len(stops))
	seq = append(make([]int, 0, len(stops)), home)
	waiting := make([]int, len(stops))
	for s := range stops {
		waiting[s] = len(stops[s].before)
	}
	at := stops[home].exit(0)
	room := 0.0
	if len(stops) > manyStops {
		room = roomOf(b, stops)
	}
	for _, members := range phases(stops, home) {
		grid := newEntryGrid(b, stops, members, room)
		for _, s := range members {
			if waiting[s] == 0 {
				grid.add(s)
			}
		}
		for range members {
			s, e := grid.nearest(at)
			grid.remove(s)
			entry[s] = e
			seq = append(seq, s)
			at = stops[s].exit(e)
			b.Spend(len(stops[s].After))
			for _, next := range stops[s].After {
				if waiting[next]--; waiting[next] == 0 && stops[next].Phase == stops[s].Phase {
					grid.add(next)
				}
			}
		}
	}
	return seq, entry
}
