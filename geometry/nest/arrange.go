package nest

import (
	"slices"

	"knifedesk/geometry/budget"
)

// inRows lays all rectangles in the same turn, row by row; none where not one fits.
func inRows(steps *budget.Budget, a, b, x, y int64, n int, turned bool) []Arrangement {
	t := &tiler{budget: steps, a: a, b: b}
	w, h := t.size(turned)
	cols, rows := x/w, y/h
	if cols == 0 || rows == 0 {
		return nil
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
	return []Arrangement{one}
}

// slimmest is the ratio of sides from which turns are not mixed: there are too
// many ways to try, and next to nothing to gain.
const slimmest = 60

// inTurns lays rectangles in both turns: the fullest sheet found first, then the shortest
// strip for the rest. Where they take several runs, and each is what one takes besides, it
// lays them a second time in the runs that take least together. None fit where it returns
// nothing.
func inTurns(steps *budget.Budget, a, b, x, y int64, n int, each *int64) []Arrangement {
	if max(a, b) > slimmest*min(a, b) {
		return nil
	}
	side := max(x, min(y, (maxBand+1)*max(a, b)))
	t := newTiler(steps, a, b, side)
	bands := t.bands(x)
	if len(bands) == 0 {
		return nil
	}
	limit := int(min(int64(n), t.bound(x, y)))
	least, last := stack(steps, bands, limit)
	capacity := limit
	for capacity > 0 && least[capacity] > y {
		capacity--
	}
	full, all := func(k int) []Slot { return t.slots(stacked(bands, last, k), k) }, []Arrangement(nil)
	if k := leastTogether(least[:capacity+1], n, each); k > 0 && k < n {
		all = append(all, t.sheets(full(k), full(n%k), n))
	}
	fullest := full
	if capacity < limit && y <= side {
		if whole := t.fill(x, y, mostSplits); int(whole.n) > capacity {
			capacity = int(min(whole.n, int64(limit)))
			fullest = func(k int) []Slot { return t.first(t.place(nil, whole, 0, 0), k) }
		}
	}
	if capacity == 0 {
		return all
	}
	on, rest := fullest(capacity), full(n%capacity)
	if t.reach(rest) > y {
		rest = t.first(slices.Clone(on), n%capacity)
	}
	return append(all, t.sheets(on, rest, n))
}

// sheets arranges n rectangles on full sheets and one with the rest.
func (t *tiler) sheets(full, rest []Slot, n int) Arrangement {
	one := Arrangement{FullSheets: n / len(full), Full: full, Rest: rest, mixed: true}
	one.FullUM, one.LengthUM = t.reach(one.Full), t.used(one)
	return one
}

// leastTogether returns how many of n rectangles go on each run, with the rest on one more,
// so that all runs take least, where k of them take least[k] and every run each besides: as
// many as can be where several numbers do. It returns 0 where each is not given.
func leastTogether(least []int64, n int, each *int64) (best int) {
	if each == nil {
		return 0
	}
	shortest := int64(0)
	for k := len(least) - 1; k > 0; k-- {
		um := int64(n/k) * (least[k] + *each)
		if rest := n % k; rest > 0 {
			um += least[rest] + *each
		}
		if best == 0 || um < shortest {
			best, shortest = k, um
		}
	}
	return best
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
