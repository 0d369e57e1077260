package tour

import "slices"

// nearest orders the stops by always going to the nearest entry of a stop
// whose predecessors are done.
func (t *tour) nearest() {
	members := slices.Clone(t.seq)
	grid := newEntryGrid(t.b, t.stops, members)
	waiting := map[int]int{}
	for _, s := range members {
		t.b.Spend(1 + len(t.stops[s].before))
		for _, b := range t.stops[s].before {
			if t.pos[b] >= 0 {
				waiting[s]++
			}
		}
		if waiting[s] == 0 {
			grid.add(s)
		}
	}
	t.seq = t.seq[:0]
	at := t.start
	for range members {
		s, e := grid.nearest(at)
		grid.remove(s)
		t.entry[s] = e
		t.seq = append(t.seq, s)
		at = t.out(s)
		t.b.Spend(len(t.stops[s].After))
		for _, next := range t.stops[s].After {
			if t.pos[next] < 0 {
				continue
			}
			if waiting[next]--; waiting[next] == 0 {
				grid.add(next)
			}
		}
	}
	for i, s := range t.seq {
		t.pos[s] = i
	}
}
