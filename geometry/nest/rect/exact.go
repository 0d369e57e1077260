package rect

import (
	"cmp"
	"slices"
)

// Of few rectangles all packings without any waste are looked through, as far as the
// share of the steps goes.
const (
	fewItems   = 40
	exactShare = 4 // of the steps, one in so many
)

// exactly looks for a packing that fills the strip up to the bound.
func (s *search) exactly() {
	if len(s.items) > fewItems || s.best.Height <= s.low || s.area != s.low*s.width {
		return
	}
	for _, turn := range []bool{false, true} { // as they are there are far fewer ways
		e := &filling{packer: s.packer, end: s.low, placed: make([]bool, len(s.items)), turn: turn}
		e.steps = s.steps.Allowed() / exactShare / len(s.items) // each looks at all items
		if e.fill(skyline{{0, 0, s.width}}, len(s.items)) {
			s.best = Packing{slices.Clone(s.places), s.low}
			return
		}
	}
}

// filling is a packing without waste that is under way.
type filling struct {
	*packer
	end    int64
	placed []bool
	turn   bool // items may be turned
	steps  int
	sums   []bool // widths that what is left adds up to
}

// way is an item as it may lie at the left end of the lowest stretch.
type way struct {
	id     int
	turned bool
	Item
	flush int
}

// fill places the items that are left, and reports whether it could: at the lowest
// stretch each that fits is tried, those first that lie flush with most sides.
func (e *filling) fill(line skyline, left int) bool {
	if left == 0 {
		return true
	}
	at, wall, right := line.lowest(e.end)
	low := line[at]
	if e.steps <= 0 || !e.fillable(low.w) {
		return false
	}
	for _, w := range e.waysAt(low, wall, right) {
		if e.steps--; e.steps <= 0 {
			return false
		}
		e.budget.Spend(len(e.items))
		after, x := slices.Clone(line).covered(at, w.W, w.H, false)
		e.placed[w.id], e.places[w.id] = true, Place{x, low.y, w.turned}
		if e.fill(after, left-1) {
			return true
		}
		e.placed[w.id] = false
	}
	return false
}

// ways returns an item as it may lie here.
func (e *filling) ways(it Item) []Item {
	if e.turn {
		return it.ways()
	}
	return []Item{it}
}

// waysAt lists the ways in which unlike items fit at the left end of a stretch.
func (e *filling) waysAt(low rise, wall, right int64) []way {
	var all []way
	for id, it := range e.items {
		if e.placed[id] {
			continue
		}
		for k, one := range e.ways(it) {
			if one.W > low.w || one.H > e.end-low.y || slices.ContainsFunc(all, func(w way) bool { return w.W == one.W && w.H == one.H }) {
				continue
			}
			flush := 0
			if one.H == wall {
				flush += 2
			}
			if one.W == low.w {
				flush += 2
				if one.H == right {
					flush++
				}
			}
			all = append(all, way{id, k == 1, one, flush})
		}
	}
	slices.SortStableFunc(all, func(p, q way) int {
		return cmp.Or(cmp.Compare(q.flush, p.flush), cmp.Compare(q.area(), p.area()))
	})
	return all
}

// fillable reports whether widths of what is left add up to that of a stretch: one of
// each item at most, but in either turn.
func (e *filling) fillable(width int64) bool {
	const wide = 4096 // beyond it sums are not looked at
	if width > wide {
		return true
	}
	e.sums = append(e.sums[:0], make([]bool, width+1)...)
	e.sums[0] = true
	for id, it := range e.items {
		if e.placed[id] {
			continue
		}
		ways := e.ways(it)
		for at := width; at > 0; at-- {
			for _, w := range ways {
				if at >= w.W && e.sums[at-w.W] {
					e.sums[at] = true
					break
				}
			}
		}
	}
	return e.sums[width]
}
