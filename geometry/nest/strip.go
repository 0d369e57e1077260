package nest

import (
	"cmp"
	"slices"

	"knifedesk/geometry/budget"
)

// strip is a stack of bands across the whole usable width, in the order in
// which they lie.
type strip struct {
	bands  []band
	length int64
}

// band is a pattern over the whole width, as long as it needs.
type band struct {
	in     *pattern
	length int64
}

// maxBand is how many of the longer side a band spans at most. Patterns of
// two turns repeat after a few sides, so longer bands gain next to nothing.
const maxBand = 4

// stripSplits is how many splits are looked at for all bands of a strip.
const stripSplits = 1_000_000

// bands returns the bands of width x worth using: each holds more than every
// shorter one.
func (t *tiler) bands(x int64) []band {
	var all []band
	end, exact := slices.BinarySearch(t.sums, maxBand*max(t.a, t.b))
	if exact {
		end++
	}
	for _, y := range t.sums[:end] {
		p := t.fill(x, y, stripSplits/end)
		if p.n > 0 && (len(all) == 0 || p.n > all[len(all)-1].in.n) {
			all = append(all, band{p, y})
		}
	}
	return all
}

// stack chooses for every number of rectangles up to n the bands of least
// length together: least[k] is the length for k and last[k] the band to take
// first. It is a knapsack with as many of each band as wanted.
func stack(b *budget.Budget, bands []band, n int) (least []int64, last []int) {
	least, last = make([]int64, n+1), make([]int, n+1)
	for k := 1; k <= n; k++ {
		b.Spend(len(bands))
		least[k] = -1
		for i, one := range bands {
			length := one.length + least[max(0, k-int(one.in.n))]
			if least[k] < 0 || length < least[k] {
				least[k], last[k] = length, i
			}
		}
	}
	return least, last
}

// stacked returns the bands that stack chose for k, the longest first.
func stacked(bands []band, last []int, k int) strip {
	var s strip
	for k > 0 {
		b := bands[last[k]]
		s.bands = append(s.bands, b)
		s.length += b.length
		k -= int(b.in.n)
	}
	slices.SortStableFunc(s.bands, func(p, q band) int { return cmp.Compare(q.length, p.length) })
	return s
}

// slots returns the places of the first n rectangles of s, by y and then x.
func (t *tiler) slots(s strip, n int) []Slot {
	var all []Slot
	y := int64(0)
	for _, b := range s.bands {
		all = t.place(all, b.in, 0, y)
		y += b.length
	}
	return t.first(all, n)
}

// first sorts slots along the feed and then across it and keeps n of them,
// those that end first.
func (t *tiler) first(all []Slot, n int) []Slot {
	end := func(s Slot) int64 { _, h := t.size(s.Turned); return s.YUM + h }
	slices.SortStableFunc(all, func(p, q Slot) int {
		t.budget.Step()
		if len(all) > n {
			return cmp.Or(cmp.Compare(end(p), end(q)), byFeed(p, q))
		}
		return byFeed(p, q)
	})
	all = all[:min(n, len(all))]
	t.budget.Spend(len(all))
	slices.SortStableFunc(all, byFeed)
	return all
}

func byFeed(p, q Slot) int { return cmp.Or(cmp.Compare(p.YUM, q.YUM), cmp.Compare(p.XUM, q.XUM)) }
