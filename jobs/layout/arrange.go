package layout

import "math"

// arrangement is where copies lie: so many full loads alike, and one more
// with the rest. Lengths are in µm with one gap too many at the end.
type arrangement struct {
	full, rest []slot
	fullLoads  int
	length     int64 // used of the last load
	mixed      bool
}

func (a arrangement) loads() int {
	if len(a.rest) > 0 {
		return a.fullLoads + 1
	}
	return a.fullLoads
}

// better reports whether a takes fewer loads than b, or else less length of
// the last one, or else the same with all copies turned alike.
func (a arrangement) better(b arrangement) bool {
	switch {
	case a.loads() != b.loads():
		return a.loads() < b.loads()
	case a.length != b.length:
		return a.length < b.length
	}
	return !a.mixed && b.mixed
}

// turns says which of the two turns are allowed.
type turns struct{ straight, quarter, mixed bool }

// arrange puts n rectangles of w by h, in mm, on loads of the given usable
// area with a gap between them. It returns false where not one fits.
func arrange(w, h, gap, width, length float64, n int, allowed turns) (arrangement, bool) {
	um := func(mm float64) int64 { return int64(math.Floor(mm*1000 + 0.5)) }
	a, b := max(1, um(w+gap)), max(1, um(h+gap))
	x, y := um(width+gap), um(length+gap)
	var found []arrangement
	add := func(one arrangement, ok bool) {
		if ok {
			found = append(found, one)
		}
	}
	if allowed.straight {
		add(inRows(a, b, x, y, n, false))
	}
	if allowed.quarter {
		add(inRows(a, b, x, y, n, true))
	}
	if allowed.mixed {
		add(inTurns(a, b, x, y, n))
	}
	if len(found) == 0 {
		return arrangement{}, false
	}
	best := found[0]
	for _, one := range found[1:] {
		if one.better(best) {
			best = one
		}
	}
	return best, true
}

// inRows lays all rectangles in the same turn, row by row.
func inRows(a, b, x, y int64, n int, turned bool) (arrangement, bool) {
	t := &tiler{a: a, b: b}
	w, h := t.size(turned)
	cols, rows := x/w, y/h
	if cols == 0 || rows == 0 {
		return arrangement{}, false
	}
	capacity := int(min(cols*rows, int64(n)))
	grid := func(k int) []slot {
		slots := make([]slot, k)
		for i := range slots {
			slots[i] = slot{int64(i) % cols * w, int64(i) / cols * h, turned}
		}
		return slots
	}
	one := arrangement{fullLoads: n / capacity, full: grid(capacity), rest: grid(n % capacity)}
	one.length = t.used(one)
	return one, true
}

// slimmest is the ratio of sides from which turns are not mixed: there are too
// many ways to try, and next to nothing to gain.
const slimmest = 60

// inTurns lays rectangles in both turns: the fullest load found first, then
// the shortest strip for the rest.
func inTurns(a, b, x, y int64, n int) (arrangement, bool) {
	if max(a, b) > slimmest*min(a, b) {
		return arrangement{}, false
	}
	side := max(x, min(y, (maxBand+1)*max(a, b)))
	t := newTiler(a, b, side)
	bands := t.bands(x)
	if len(bands) == 0 {
		return arrangement{}, false
	}
	limit := int(min(int64(n), t.bound(x, y)))
	least, last := stack(bands, limit)
	capacity := limit
	for capacity > 0 && least[capacity] > y {
		capacity--
	}
	full := func() []slot { return t.slots(stacked(bands, last, capacity), capacity) }
	if capacity < limit && y <= side {
		if whole := t.fill(x, y, splitBudget); int(whole.n) > capacity {
			capacity = int(min(whole.n, int64(limit)))
			full = func() []slot { return t.first(t.place(nil, whole, 0, 0), capacity) }
		}
	}
	if capacity == 0 {
		return arrangement{}, false
	}
	one := arrangement{fullLoads: n / capacity, full: full(), mixed: true}
	if rest := n % capacity; rest > 0 {
		one.rest = t.slots(stacked(bands, last, rest), rest)
		if t.reach(one.rest) > y {
			one.rest = t.first(one.full, rest)
		}
	}
	one.length = t.used(one)
	return one, true
}

// used returns the length that the last load of one takes.
func (t *tiler) used(one arrangement) int64 {
	if len(one.rest) > 0 {
		return t.reach(one.rest)
	}
	return t.reach(one.full)
}

// reach returns where the last of the slots ends.
func (t *tiler) reach(slots []slot) int64 {
	end := int64(0)
	for _, s := range slots {
		_, h := t.size(s.turned)
		end = max(end, s.y+h)
	}
	return end
}
