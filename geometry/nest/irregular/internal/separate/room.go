package separate

import "math"

// Used returns how far items reach on the last sheet.
func (l *Layout) Used() float64 {
	start, used := l.start(l.Room.Sheets-1), 0.0
	for i := range l.moving {
		used = max(used, l.boxes[i].y1-start)
	}
	return used
}

// Fit cuts the room down to what is used: sheets on which nothing lies any more, since
// items go from sheet to sheet as they are separated, are taken away, and the last one is
// shortened.
func (l *Layout) Fit() {
	for sheet := l.Room.Sheets - 1; sheet >= 0 && l.Room.Sheets > 1; sheet-- {
		if empty(l, sheet) {
			takeAway(l, sheet)
		}
	}
	l.Room.Last = l.Used()
}

// sheetOf is the sheet on which an item lies.
func sheetOf(l *Layout, i int) int { return int(l.Places[i].Y / l.Room.Pitch) }

func empty(l *Layout, sheet int) bool {
	for i := range l.moving {
		if sheetOf(l, i) == sheet {
			return false
		}
	}
	return true
}

// takeAway moves what lies on the sheets behind one up to it.
func takeAway(l *Layout, sheet int) {
	for i := range l.moving {
		if sheetOf(l, i) > sheet {
			p := l.Places[i]
			p.Y -= l.Room.Pitch
			l.put(i, p)
		}
	}
	l.Room.Sheets--
}

// Restore sets items down as they lay in a room.
func (l *Layout) Restore(room Room, places []Place) {
	l.Room = room
	for i := range l.moving {
		l.put(i, places[i])
	}
}

// Shorten takes a share of a sheet's length away from the last one: at its end,
// or at a place that is given as a share of its length, and moves down what lies
// behind; it leaves the least length that the last of them can do with. A last
// sheet in which no item would find room is taken away as a whole. Items for
// which there is no room where they lie are set down anywhere. Overlaps are
// looked at anew. It returns false where nothing can be taken away.
func (l *Layout) Shorten(share, at, least float64) bool {
	start := l.start(l.Room.Sheets - 1)
	length := l.Room.Last
	cut := float64(length * share)
	if l.Room.Sheets > 1 {
		cut = float64(l.Room.Length * share)
		least = 0
	}
	split := start + float64(at*length)
	switch {
	case length <= least:
		return false
	case length-cut >= l.shortest():
		l.Room.Last = max(least, length-cut)
	case l.Room.Sheets == 1:
		return false
	default:
		l.Room.Sheets--
		l.Room.Last = l.Room.Length
	}
	cut = length - l.Room.Last
	for i := range l.moving {
		p, o := l.Places[i], l.out[i]
		if p.Y < start {
			continue
		}
		if at >= 0 && p.Y+o.H/2 > split {
			p.Y -= cut
		}
		l.put(i, l.within(i, p))
	}
	l.measure()
	return true
}

// shortest returns the least height of any item in any turn.
func (l *Layout) shortest() float64 {
	least := math.Inf(1)
	for i := range l.moving {
		for _, o := range l.items[i].Turns {
			least = min(least, o.H)
		}
	}
	return least
}

// within returns the place nearest to p on its sheet, or one at random where an
// item has no room there.
func (l *Layout) within(i int, p Place) Place {
	o := l.out[i]
	sheet := int(p.Y / l.Room.Pitch)
	if sheet < l.Room.Sheets {
		low := l.start(sheet)
		if high := low + l.Room.end(sheet) - o.H; high >= low {
			p.Y = max(low, min(high, p.Y))
			return p
		}
	}
	for range 1000 {
		if q, ok := l.anyPlace(i); ok {
			return q
		}
	}
	return p
}

// largeShare is the share of all hulls' area that the large items make up.
const largeShare = 0.75

// Swap lets two large items of different kinds change places.
func (l *Layout) Swap() {
	l.order = l.order[:0]
	total := 0.0
	for i := range l.moving {
		l.order = append(l.order, i)
		total += l.out[i].Hull
	}
	big := large(l, total)
	a := big[l.random.Below(len(big))]
	for range 30 {
		b := big[l.random.Below(len(big))]
		if l.items[a].Kind != l.items[b].Kind {
			swap(l, a, b)
			return
		}
	}
	if p, ok := l.anyPlace(a); ok {
		l.put(a, p)
		l.row(a)
	}
}

// large returns the largest items, which make up largeShare of the total.
func large(l *Layout, total float64) []int {
	sortBy(l.order, func(i int) float64 { return -l.out[i].Hull })
	sum := 0.0
	for k, i := range l.order {
		if sum += l.out[i].Hull; sum > largeShare*total {
			return l.order[:k+1]
		}
	}
	return l.order
}

func swap(l *Layout, a, b int) {
	p, q := l.Places[a], l.Places[b]
	w, h := l.out[a].W, l.out[a].H
	centre(l, a, q, l.out[b].W, l.out[b].H)
	centre(l, b, p, w, h)
	l.row(a)
	l.row(b)
}

// centre sets item i down with its middle where the middle of a box is.
func centre(l *Layout, i int, p Place, w, h float64) {
	o := l.out[i]
	q := Place{l.Places[i].Turn, p.X + (w-o.W)/2, p.Y + (h-o.H)/2}
	low, high, ok := l.limits(p, o.W, o.H)
	if !ok {
		return
	}
	q.X, q.Y = max(0, min(l.Room.Width-o.W, q.X)), max(low, min(high, q.Y))
	l.put(i, q)
}
