package rect

import (
	"cmp"
	"slices"

	"knifedesk/geometry/budget"
)

// Sheet is one of several sheets: the items that lie on it, by their place in the list,
// and where; and how far along it they reach.
type Sheet struct {
	Items  []int
	Places []Place
	Height int64
}

// Sheets packs rectangles onto as few sheets of a width and length as it finds a way to,
// and the last one as short. It returns false where one of them fits on no sheet. The same
// call gives the same packing.
//
// Each sheet is filled along the skyline with what fits best of what is left, first by
// a few sequences, and then by the best of them with random swaps, as long as the area
// allows fewer sheets or a shorter last one. It takes no more than rows in which each
// rectangle lies on the first sheet that has room for it.
func Sheets(b *budget.Budget, items []Item, width, length int64, effort Effort) ([]Sheet, bool) {
	return sheets(b, items, width, length, nil, effort)
}

// Runs packs rectangles onto runs of a roll of a width, of at most a length, that reach as
// little as it finds a way to, all of them together and each for every one, which is not
// below nought. Otherwise it is like Sheets.
func Runs(b *budget.Budget, items []Item, width, length, each int64, effort Effort) ([]Sheet, bool) {
	return sheets(b, items, width, length, &each, effort)
}

func sheets(b *budget.Budget, items []Item, width, length int64, each *int64, effort Effort) ([]Sheet, bool) {
	if len(items) == 0 {
		return nil, true
	}
	area := int64(0)
	for _, i := range items {
		if i.W < 1 || i.H < 1 || !slices.ContainsFunc(i.ways(), func(w Item) bool { return w.W <= width && w.H <= length }) {
			return nil, false
		}
		area += i.area()
	}
	if effort.Steps == 0 {
		effort.Steps = Quick().Steps
	}
	f := &filler{
		packer: newPacker(b, items, width), whole: b, length: length, least: int((area + width*length - 1) / (width * length)), each: each,
		steps: b.Allow(effort.Steps), random: random(effort.Seed),
	}
	f.packer.budget = f.steps
	f.start()
	f.swap()
	f.shorten(effort)
	return f.best, true
}

// filler looks for sequences that fill few sheets.
type filler struct {
	*packer
	whole  *budget.Budget
	length int64
	least  int    // sheets that the area needs
	each   *int64 // of runs, what every one takes besides; nil: they are sheets
	best   []Sheet
	order  []int // that made the best
	steps  *budget.Budget
	random random
}

// start fills sheets by the sequences that are worth a try: the given one, and by length,
// width, area and longer side.
func (f *filler) start() {
	given := make([]int, len(f.items))
	for i := range given {
		given[i] = i
	}
	f.try(given)
	for _, by := range []func(Item) int64{
		func(i Item) int64 { return i.H<<31 + i.W },
		func(i Item) int64 { return i.W<<31 + i.H },
		Item.area,
		func(i Item) int64 { return max(i.W, i.H) },
	} {
		order := slices.Clone(given)
		slices.SortStableFunc(order, func(p, q int) int { return cmp.Compare(by(f.items[q]), by(f.items[p])) })
		f.try(order)
		f.keep(order, f.rows(order))
	}
}

// try fills sheets by a sequence, and keeps them where they are the best so far.
func (f *filler) try(order []int) bool { return f.keep(order, f.fill(order)) }

// keep keeps sheets that a sequence made where they are the best so far.
func (f *filler) keep(order []int, sheets []Sheet) bool {
	if f.best != nil && !f.fewer(sheets, f.best) {
		return false
	}
	f.best, f.order = sheets, slices.Clone(order)
	return true
}

// fewer reports whether sheets are fewer, or else the last one is shorter; or runs shorter
// together.
func (f *filler) fewer(all, others []Sheet) bool {
	if f.each != nil {
		return f.drawn(all) < f.drawn(others)
	}
	if len(all) != len(others) {
		return len(all) < len(others)
	}
	return all[len(all)-1].Height < others[len(others)-1].Height
}

// drawn is what runs take of the roll.
func (f *filler) drawn(all []Sheet) int64 {
	um := *f.each * int64(len(all))
	for i := range all {
		um += all[i].Height
	}
	return um
}

// rows puts each of a sequence into the first row with room for it across, where it is no
// longer than the first of that row, or begins a row on the first sheet with room for one;
// as it is given, or turned where it fits in no other way.
func (f *filler) rows(order []int) []Sheet {
	type row struct {
		sheet         int
		x, y, longest int64
	}
	var all []Sheet
	var rows []row
	for _, id := range order {
		it, turned := f.items[id], false
		if it.W > f.width || it.H > f.length {
			it, turned = f.turned[id], true
		}
		at := slices.IndexFunc(rows, func(r row) bool { return r.x+it.W <= f.width && it.H <= r.longest })
		if f.steps.Spend(1 + len(rows)); at < 0 {
			on := slices.IndexFunc(all, func(s Sheet) bool { return s.Height+it.H <= f.length })
			if on < 0 {
				on, all = len(all), append(all, Sheet{})
			}
			at, rows = len(rows), append(rows, row{sheet: on, y: all[on].Height, longest: it.H})
			all[on].Height += it.H
		}
		s := &all[rows[at].sheet]
		s.Items, s.Places = append(s.Items, id), append(s.Places, Place{rows[at].x, rows[at].y, turned})
		rows[at].x += it.W
	}
	return all
}

// fill fills one sheet after the other.
func (f *filler) fill(order []int) []Sheet {
	var all []Sheet
	for left := order; len(left) > 0; {
		f.pack(left, f.length, endless)
		waiting := f.waiting(len(left))
		one := Sheet{Height: f.line.top()}
		var rest []int
		for i, id := range left {
			if waiting[i] {
				rest = append(rest, id)
				continue
			}
			one.Items, one.Places = append(one.Items, id), append(one.Places, f.places[id])
		}
		one.Height = f.reach(one)
		all, left = append(all, one), rest
	}
	return all
}

// waiting says which of the sequence just packed had no place.
func (f *filler) waiting(n int) []bool {
	all := make([]bool, n)
	for i := f.next[n]; i < int32(n); i = f.next[i] {
		all[i] = true
	}
	return all
}

// reach is how far along the sheet the last item reaches: the skyline is raised over
// places that nothing fits on.
func (f *filler) reach(s Sheet) int64 {
	end := int64(0)
	for i, id := range s.Items {
		it := f.items[id]
		if s.Places[i].Turned {
			it = f.turned[id]
		}
		end = max(end, s.Places[i].Y+it.H)
	}
	return end
}

// mostSwaps is how many swaps in a row may gain nothing.
const mostSwaps = 400

// swap swaps two items of the best sequence as long as that gains something, or the steps
// last.
func (f *filler) swap() {
	for vain := 0; vain < mostSwaps && (f.each != nil || len(f.best) > f.least) && !f.steps.Over(); vain++ {
		order := slices.Clone(f.order)
		i, j := f.random.below(len(order)), f.random.below(len(order))
		order[i], order[j] = order[j], order[i]
		if i != j && f.try(order) {
			vain = 0
		}
	}
}

// shorten packs what lies on the last sheet anew, or on each run, as short as it can.
func (f *filler) shorten(effort Effort) {
	first := len(f.best) - 1
	if f.each != nil {
		first = 0
	}
	for n := first; n < len(f.best); n++ {
		one := &f.best[n]
		own := make([]Item, len(one.Items))
		for i, id := range one.Items {
			own[i] = f.items[id]
		}
		if p, ok := Strip(f.whole, own, f.width, effort); ok && p.Height < one.Height {
			one.Places, one.Height = p.Places, p.Height
		}
	}
}
