package nest

import "knifedesk/geometry/budget"

// inRows lays all rectangles in the same turn, row by row.
func inRows(steps *budget.Budget, a, b, x, y int64, n int, turned bool) (Arrangement, bool) {
	t := &tiler{budget: steps, a: a, b: b}
	w, h := t.size(turned)
	cols, rows := x/w, y/h
	if cols == 0 || rows == 0 {
		return Arrangement{}, false
	}
	capacity := int(min(cols*rows, int64(n)))
	grid := func(k int) []Slot {
		slots := make([]Slot, k)
		for i := range slots {
			t.budget.Step()
			slots[i] = Slot{int64(i) % cols * w, int64(i) / cols * h, turned}
		}
		return slots
	}
	one := Arrangement{FullSheets: n / capacity, Full: grid(capacity), Rest: grid(n % capacity)}
	one.FullUM, one.LengthUM = t.reach(one.Full), t.used(one)
	return one, true
}

// slimmest is the ratio of sides from which turns are not mixed: there are too
// many ways to try, and next to nothing to gain.
const slimmest = 60

// inTurns lays rectangles in both turns: the fullest sheet found first, then
// the shortest strip for the rest.
func inTurns(steps *budget.Budget, a, b, x, y int64, n int) (Arrangement, bool) {
	if max(a, b) > slimmest*min(a, b) {
		return Arrangement{}, false
	}
	side := max(x, min(y, (maxBand+1)*max(a, b)))
	t := newTiler(steps, a, b, side)
	bands := t.bands(x)
	if len(bands) == 0 {
		return Arrangement{}, false
	}
	limit := int(min(int64(n), t.bound(x, y)))
	least, last := stack(steps, bands, limit)
	capacity := limit
	for capacity > 0 && least[capacity] > y {
		capacity--
	}
	full := func() []Slot { return t.slots(stacked(bands, last, capacity), capacity) }
	if capacity < limit && y <= side {
		if whole := t.fill(x, y, mostSplits); int(whole.n) > capacity {
			capacity = int(min(whole.n, int64(limit)))
			full = func() []Slot { return t.first(t.place(nil, whole, 0, 0), capacity) }
		}
	}
	if capacity == 0 {
		return Arrangement{}, false
	}
	one := Arrangement{FullSheets: n / capacity, Full: full(), mixed: true}
	if rest := n % capacity; rest > 0 {
		one.Rest = t.slots(stacked(bands, last, rest), rest)
		if t.reach(one.Rest) > y {
			one.Rest = t.first(one.Full, rest)
		}
	}
	one.FullUM, one.LengthUM = t.reach(one.Full), t.used(one)
	return one, true
}

// used returns the length that the last sheet of one takes.
func (t *tiler) used(one Arrangement) int64 {
	if len(one.Rest) > 0 {
		return t.reach(one.Rest)
	}
	return t.reach(one.Full)
}

// reach returns where the last of the slots ends.
func (t *tiler) reach(slots []Slot) int64 {
	end := int64(0)
	for _, s := range slots {
		t.budget.Step()
		_, h := t.size(s.Turned)
		end = max(end, s.YUM+h)
	}
	return end
}
