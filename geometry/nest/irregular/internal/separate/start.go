package separate

import (
	"knifedesk/geometry/budget"
)

// How many places are looked at for an item in the start: so many for all items
// together, but for each no more and no less than these.
const (
	allTries   = 300_000
	mostTries  = 1500
	leastTries = 150
)

// closed is how many items have to find no place on a sheet for it to be looked
// at no more.
const closed = 20

// Construct sets down one item of a layout after the other, the largest first, where none
// overlaps and it ends lowest among the places tried, on the first sheet that
// has one. It returns false where an item fits nowhere; the room is cut down to
// the sheets used.
func Construct(b *budget.Budget, l *Layout) bool {
	order := make([]int, l.moving)
	for i := range order {
		order[i] = i
	}
	sortBy(order, func(i int) float64 { return -l.items[i].Turns[0].Hull })
	fronts := make([]float64, l.Room.Sheets) // where the items end on each sheet
	missed := make([]int, l.Room.Sheets)     // how many found no place there
	used := 1
	for _, i := range order {
		placed := false
		for sheet := 0; sheet < l.Room.Sheets && !placed; sheet++ {
			if missed[sheet] >= closed {
				continue
			}
			p, ok := lowest(b, l, i, sheet, fronts[sheet])
			if placed = ok; ok {
				l.put(i, p)
				fronts[sheet] = max(fronts[sheet], l.boxes[i].y1-l.start(sheet))
				used = max(used, sheet+1)
				continue
			}
			missed[sheet]++
		}
		if !placed {
			return false
		}
	}
	l.Room.Sheets = used
	l.Room.Last = l.Used()
	return true
}

// lowest returns the lowest place found for item i on a sheet, on which others
// reach up to front; false where there is none.
func lowest(b *budget.Budget, l *Layout, i, sheet int, front float64) (Place, bool) {
	turns := l.items[i].Turns
	start := l.start(sheet)
	var at Place
	found := false
	end := l.Room.Length
	for t, o := range turns {
		p := Place{t, 0, start + front}
		if o.W <= l.Room.Width && front+o.H <= end && free(b, l, i, p) {
			at, end, found = p, front+o.H, true
		}
	}
	for range max(leastTries, min(mostTries, allTries/max(1, l.moving))) {
		b.Step()
		t := l.random.Below(len(turns))
		o := turns[t]
		if o.W > l.Room.Width || o.H > end {
			continue
		}
		reach := min(end, front+o.H+l.Room.Width/50)
		p := Place{t, float64(l.random.Unit() * (l.Room.Width - o.W)), start + float64(l.random.Unit()*max(0, reach-o.H))}
		if free(b, l, i, p) {
			at = sink(b, l, i, p)
			end, found = at.Y+o.H-start, true
		}
	}
	return at, found
}

// free reports whether an item overlaps none in a place.
func free(b *budget.Budget, l *Layout, i int, p Place) bool {
	o, number := l.items[i].Turns[p.Turn], l.turns[i][p.Turn]
	at := box{p.X, p.Y, p.X + o.W, p.Y + o.H}
	tables := l.tables.Row(number)
	for w, found := range l.grid.find(at) {
		for ; found != 0; found &= found - 1 {
			k := w*64 + trailing(found)
			c := &l.boxes[k]
			if k == i || at.x0 >= c.x1 || at.x1 <= c.x0 || at.y0 >= c.y1 || at.y1 <= c.y0 {
				continue
			}
			q, dx, dy := l.out[k], c.x0-at.x0, c.y0-at.y0
			if tables != nil && tables[l.number[k]].Table != nil {
				if tables[l.number[k]].Depth(at.way(c)) > 0 {
					return false
				}
				continue
			}
			l.tables.Spend(b, number, l.number[k], compared)
			if o.Near(q, dx, dy) || o.Meets(q, dx, dy) {
				return false
			}
		}
	}
	return true
}

// sink moves a place down and to the sides as long as the item overlaps none.
func sink(b *budget.Budget, l *Layout, i int, p Place) Place {
	o := l.items[i].Turns[p.Turn]
	low := l.start(int(p.Y / l.Room.Pitch))
	for step := o.H; step > o.H/500; {
		b.Step()
		q := p
		q.Y = max(low, p.Y-step)
		if q.Y < p.Y && free(b, l, i, q) {
			p = q
			continue
		}
		aside := false
		for _, dx := range [2]float64{-step, step} {
			r := q
			r.X = max(0, min(l.Room.Width-o.W, p.X+dx))
			if r.Y < p.Y && free(b, l, i, r) {
				p, aside = r, true
				break
			}
		}
		if !aside {
			step /= 2
		}
	}
	return p
}
