// Package separate moves outlines about until none overlaps another, in room
// that is given: overlap is minimised with a weight for every pair that grows
// as long as the two overlap (guided local search; Egeblad, Nielsen and
// Odgaard 2007; Umetani et al. 2009; Elkeran 2013), by placing one outline at a
// time where its weighted overlap is least among places at random, the best of
// them moved on by coordinate descent (Gardeyn, Vanden Berghe and Wauters 2025).
package separate

import (
	"math"

	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/nest/irregular/internal/table"
)

// Item is what is placed: its outlines in the turns that it may take. Items
// that are alike have the same Kind. A fixed item stays where it is.
type Item struct {
	Kind  int
	Turns []*outline.Outline
}

// Room is where items lie: sheets of a width along x, one after the other along
// y, each Pitch from the one before.
type Room struct {
	Width  float64
	Length float64 // of a sheet
	Last   float64 // of the last sheet that may be used
	Pitch  float64
	Sheets int
}

// end returns how far along y the room reaches on a sheet, from its start.
func (r *Room) end(sheet int) float64 {
	if sheet == r.Sheets-1 {
		return r.Last
	}
	return r.Length
}

// start returns where a sheet begins along y.
func (l *Layout) start(sheet int) float64 { return float64(float64(sheet) * l.Room.Pitch) }

// Place is where an item lies: the turn, and the lower left corner of its box.
type Place struct {
	Turn int
	X, Y float64
}

// Nowhere stands for the turn of an item that is not set down.
const Nowhere = -1

// box is the box of an item.
type box struct{ x0, y0, x1, y1 float64 }

// way returns how far the middle of c lies from that of b.
func (b *box) way(c *box) (dx, dy float64) {
	return float64((c.x0 + c.x1 - b.x0 - b.x1) * 0.5), float64((c.y0 + c.y1 - b.y0 - b.y1) * 0.5)
}

// Layout is a state of the search. It is for one goroutine.
type Layout struct {
	Room   Room
	Places []Place // of items, and after them of what is fixed
	// Work counts what was done, in looks into a table of two outlines.
	Work int

	items  []Item // those after the first movable stay where they are
	moving int
	out    []*outline.Outline // as turned
	boxes  []box
	number []int32   // of the outline as turned, in the tables
	turns  [][]int32 // the same, of each turn
	tables *table.View
	weight []float64 // of each pair, both ways round
	loss   []float64 // likewise: the overlap
	grid   grid
	random *Random

	wait   []int32 // scratch
	order  []int
	effort effort
}

// New returns a layout of items, the first so many of which move, at the places
// given.
// Tables are those of the items' outlines.
func New(items []Item, moving int, tables *table.Store, room Room, places []Place, seed uint64) *Layout {
	n := len(items)
	random := Random(seed)
	l := &Layout{
		Room: room, Places: make([]Place, n), items: items, moving: moving, random: &random,
		out: make([]*outline.Outline, n), boxes: make([]box, n), number: make([]int32, n), turns: make([][]int32, n), tables: tables.View(),
		wait: make([]int32, n), order: make([]int, 0, n),
	}
	for i := range items {
		if i > 0 && &items[i].Turns[0] == &items[i-1].Turns[0] {
			l.turns[i] = l.turns[i-1]
			continue
		}
		for _, o := range items[i].Turns {
			l.turns[i] = append(l.turns[i], tables.Number(o))
		}
	}
	l.grid = newGrid(items, room)
	for i, p := range places {
		if p.Turn != Nowhere {
			l.put(i, p)
		}
	}
	return l
}

// put sets an item down without looking at overlaps.
func (l *Layout) put(i int, p Place) {
	if l.out[i] != nil {
		l.grid.remove(i, l.boxes[i])
	}
	o := l.items[i].Turns[p.Turn]
	l.Places[i], l.out[i], l.number[i] = p, o, l.turns[i][p.Turn]
	l.boxes[i] = box{p.X, p.Y, p.X + o.W, p.Y + o.H}
	l.grid.add(i, l.boxes[i])
}

// Set sets all items down at the places, and looks at all overlaps. Weights stay.
func (l *Layout) Set(places []Place) {
	for i := range l.moving {
		l.put(i, places[i])
	}
	l.measure()
}

// measure looks at the overlaps of all pairs.
func (l *Layout) measure() {
	if l.loss == nil {
		n := len(l.items)
		l.loss, l.weight = make([]float64, n*n), make([]float64, n*n)
	}
	for i := range l.moving {
		l.row(i)
	}
}

// row looks at the overlaps of item i with the others.
func (l *Layout) row(i int) {
	n := len(l.items)
	for k := range n {
		l.loss[i*n+k], l.loss[k*n+i] = 0, 0
	}
	b := l.boxes[i]
	for w, found := range l.grid.find(b) {
		for ; found != 0; found &= found - 1 {
			k := w*64 + trailing(found)
			c := &l.boxes[k]
			if k == i || b.x0 >= c.x1 || b.x1 <= c.x0 || b.y0 >= c.y1 || b.y1 <= c.y0 {
				continue
			}
			d := overlap(l, i, k)
			l.loss[i*n+k], l.loss[k*n+i] = d, d
		}
	}
}

// overlap looks at the overlap of items i and k, whose boxes meet.
func overlap(l *Layout, i, k int) float64 {
	b, c := &l.boxes[i], &l.boxes[k]
	if row := l.tables.Row(l.number[i]); row != nil && row[l.number[k]].Table != nil {
		l.Work += looked
		return row[l.number[k]].Depth(b.way(c))
	}
	l.Work += compared
	o, p, dx, dy := l.out[i], l.out[k], c.x0-b.x0, c.y0-b.y0
	if o.Near(p, dx, dy) || o.Meets(p, dx, dy) {
		return o.Depth(p, dx, dy, math.Inf(1))
	}
	return 0
}

// Loss returns the overlap of all pairs, without weights.
func (l *Layout) Loss() float64 {
	n, sum := len(l.items), 0.0
	for i := range l.moving {
		for _, d := range l.loss[i*n+i+1 : (i+1)*n] {
			sum += d
		}
	}
	return sum
}
