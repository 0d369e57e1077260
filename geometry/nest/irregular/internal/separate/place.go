package separate

import (
	"math"

	"knifedesk/geometry/budget"
)

// How many places are tried for an item: anywhere in the room, near where it
// lies, and with a corner on a corner of another, where pieces that fit each
// other lie; and how many of the best are moved on.
const (
	anywhere = 10
	nearby   = 15
	contacts = 60
	finest   = 3
)

// What is counted as work: a look into a table, comparing two outlines without
// one, and what it takes besides to look at a place.
const (
	looked   = 1
	compared = 10
	place    = 4
)

// cost returns the weighted overlap of item i in a place, or a number that is
// not below the bound.
func (l *Layout) cost(b *budget.Budget, i int, p Place, bound float64) float64 {
	o := l.items[i].Turns[p.Turn]
	at := box{p.X, p.Y, p.X + o.W, p.Y + o.H}
	weights := l.weight[i*len(l.items) : (i+1)*len(l.items)]
	tables := l.tables.Row(l.turns[i][p.Turn])
	sum, waiting := 0.0, 0
	l.Work += place
	for w, found := range l.grid.find(at) {
		for ; found != 0; found &= found - 1 {
			k := w*64 + trailing(found)
			c := &l.boxes[k]
			if k == i || at.x0 >= c.x1 || at.x1 <= c.x0 || at.y0 >= c.y1 || at.y1 <= c.y0 {
				continue
			}
			if tables == nil || tables[l.number[k]].Table == nil {
				l.wait[waiting] = int32(k)
				waiting++
				continue
			}
			l.Work += looked
			if d := tables[l.number[k]].Depth(at.way(c)); d > 0 {
				if sum += float64(weights[k] * d); sum >= bound {
					return sum
				}
			}
		}
	}
	if waiting == 0 {
		return sum
	}
	return compare(b, l, i, p, sum, bound, l.wait[:waiting])
}

// compare is cost for items that have no table with item i in its turn: those
// that surely overlap come first.
func compare(b *budget.Budget, l *Layout, i int, p Place, sum, bound float64, others []int32) float64 {
	o, number := l.items[i].Turns[p.Turn], l.turns[i][p.Turn]
	weights := l.weight[i*len(l.items) : (i+1)*len(l.items)]
	left := 0
	for _, k := range others {
		dx, dy := l.boxes[k].x0-p.X, l.boxes[k].y0-p.Y
		l.Work += compared
		l.Work += l.tables.Spend(b, number, l.number[k], compared)
		if !o.Near(l.out[k], dx, dy) {
			others[left] = k
			left++
			continue
		}
		if sum += float64(weights[k] * o.Depth(l.out[k], dx, dy, (bound-sum)/weights[k])); sum >= bound {
			return sum
		}
	}
	for _, k := range others[:left] {
		dx, dy := l.boxes[k].x0-p.X, l.boxes[k].y0-p.Y
		if o.Meets(l.out[k], dx, dy) {
			if sum += float64(weights[k] * o.Depth(l.out[k], dx, dy, (bound-sum)/weights[k])); sum >= bound {
				return sum
			}
		}
	}
	return sum
}

// choice is a place and its cost.
type choice struct {
	Place
	cost float64
}

// best holds the best places found, the best first.
type best struct {
	list [finest]choice
	n    int
	near float64 // places that are nearer than this count as one
}

func (s *best) bound() float64 {
	if s.n < finest {
		return math.Inf(1)
	}
	return s.list[finest-1].cost
}

func (s *best) offer(c choice) {
	if c.cost >= s.bound() {
		return
	}
	for i := range s.n {
		d := &s.list[i]
		if d.Turn == c.Turn && math.Abs(d.X-c.X) < s.near && math.Abs(d.Y-c.Y) < s.near {
			if d.cost <= c.cost {
				return
			}
			copy(s.list[i:s.n], s.list[i+1:s.n])
			s.n--
			break
		}
	}
	at := min(s.n, finest-1)
	for at > 0 && s.list[at-1].cost > c.cost {
		at--
	}
	s.n = min(s.n+1, finest)
	copy(s.list[at+1:s.n], s.list[at:s.n-1])
	s.list[at] = c
}

// move places item i where its weighted overlap is least among the places
// tried, if that is less than where it lies.
func (l *Layout) move(b *budget.Budget, i int) {
	here := l.Places[i]
	now := l.weighted(i)
	o := l.out[i]
	short := min(o.W, o.H)
	var found best
	found.near = short / 100
	found.offer(choice{here, now})
	for range anywhere {
		b.Step()
		if p, ok := l.anyPlace(i); ok {
			found.offer(choice{p, l.cost(b, i, p, found.bound())})
		}
	}
	for range nearby {
		b.Step()
		if p, ok := l.nearPlace(i); ok {
			found.offer(choice{p, l.cost(b, i, p, found.bound())})
		}
	}
	for range contacts {
		b.Step()
		if p, ok := l.contactPlace(i); ok {
			found.offer(choice{p, l.cost(b, i, p, found.bound())})
		}
	}
	winner := choice{cost: math.Inf(1)}
	for _, c := range found.list[:found.n] {
		if d := l.descend(b, i, c, 0.25, 0.02); d.cost < winner.cost {
			winner = d
		}
	}
	winner = l.descend(b, i, winner, 0.01, 0.001)
	if winner.cost < now {
		l.put(i, winner.Place)
		l.row(i)
	}
}

// weighted returns the weighted overlap of item i where it lies.
func (l *Layout) weighted(i int) float64 {
	n, sum := len(l.items), 0.0
	for k, d := range l.loss[i*n : (i+1)*n] {
		if d > 0 {
			sum += float64(d * l.weight[i*n+k])
		}
	}
	return sum
}

// anyPlace returns a place at random in the room; false where the item in that
// turn is larger.
func (l *Layout) anyPlace(i int) (Place, bool) {
	p := Place{Turn: l.random.Below(len(l.items[i].Turns))}
	o := l.items[i].Turns[p.Turn]
	sheet := l.random.Below(l.Room.Sheets)
	width, length := l.Room.Width-o.W, l.Room.end(sheet)-o.H
	if width < 0 || length < 0 {
		return p, false
	}
	p.X = float64(width * l.random.Unit())
	p.Y = float64(length*l.random.Unit()) + l.start(sheet)
	return p, true
}

// contactPlace returns a place where a corner of the item lies on a corner of
// another.
func (l *Layout) contactPlace(i int) (Place, bool) {
	k := l.random.Below(len(l.items))
	p := Place{Turn: l.random.Below(len(l.items[i].Turns))}
	if k == i {
		return p, false
	}
	o, q := l.items[i].Turns[p.Turn], l.out[k]
	ax, ay := q.Corner(l.random.Below(q.Corners()))
	bx, by := o.Corner(l.random.Below(o.Corners()))
	p.X, p.Y = l.boxes[k].x0+ax-bx, l.boxes[k].y0+ay-by
	low, high, ok := l.limits(p, o.W, o.H)
	return p, ok && p.X >= 0 && p.Y >= low && p.X <= l.Room.Width-o.W && p.Y <= high
}

// nearPlace returns a place at random whose middle is in the box in which the
// item lies now.
func (l *Layout) nearPlace(i int) (Place, bool) {
	p := l.Places[i]
	was := l.out[i]
	if l.random.Below(2) == 0 {
		p.Turn = l.random.Below(len(l.items[i].Turns))
	}
	o := l.items[i].Turns[p.Turn]
	low, high, ok := l.limits(p, o.W, o.H)
	if !ok {
		return p, false
	}
	x := p.X + (was.W-o.W)/2 + float64((l.random.Unit()-0.5)*was.W)
	y := p.Y + (was.H-o.H)/2 + float64((l.random.Unit()-0.5)*was.H)
	p.X = max(0, min(l.Room.Width-o.W, x))
	p.Y = max(low, min(high, y))
	return p, true
}

// limits returns how far down and up a box may lie on the sheet of the place.
func (l *Layout) limits(p Place, w, h float64) (low, high float64, ok bool) {
	sheet := 0
	if l.Room.Sheets > 1 {
		sheet = max(0, min(int(p.Y/l.Room.Pitch), l.Room.Sheets-1))
	}
	low = l.start(sheet)
	high = low + l.Room.end(sheet) - h
	return low, high, high >= low && w <= l.Room.Width
}

// descend moves a choice along one of four directions at a time, drawn by
// chance, as long as its cost falls: steps grow where it did and shrink where
// not, from the one share of the item's short side to the other.
func (l *Layout) descend(b *budget.Budget, i int, c choice, from, to float64) choice {
	o := l.items[i].Turns[c.Turn]
	low, high, ok := l.limits(c.Place, o.W, o.H)
	if !ok {
		return c
	}
	short := min(o.W, o.H)
	sx, sy := float64(from*short), float64(from*short)
	width := l.Room.Width - o.W
	for c.cost > 0 && max(sx, sy) > float64(to*short) {
		b.Step()
		dx, dy := sx, sy
		axis := l.random.Below(4)
		switch axis {
		case 0:
			dy = 0
		case 1:
			dx = 0
		case 3:
			dx = -dx
		}
		better := false
		at := c.Place
		for range 2 {
			p := at
			p.X, p.Y = max(0, min(width, p.X+dx)), max(low, min(high, p.Y+dy))
			if cost := l.cost(b, i, p, c.cost); cost < c.cost {
				c, better = choice{p, cost}, true
				break
			}
			dx, dy = -dx, -dy
		}
		factor := 0.5
		if better {
			factor = 1.1
		} else if axis > 1 {
			factor = math.Sqrt2 / 2
		}
		if axis != 1 {
			sx = float64(sx * factor)
		}
		if axis != 0 {
			sy = float64(sy * factor)
		}
	}
	return c
}
