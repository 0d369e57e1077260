package separate

import (
	"testing"

	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/nest/irregular/internal/table"
)

// bows returns a layout of equal bows, set down at places by chance.
func bows(n int) *Layout {
	ring := [][]outline.Point{{{X: 0, Y: 0}, {X: 140000, Y: 0}, {X: 140000, Y: 50000}, {X: 120000, Y: 50000}, {X: 120000, Y: 20000}, {X: 20000, Y: 20000}, {X: 20000, Y: 50000}, {X: 0, Y: 50000}}}
	o := outline.New(ring, outline.Poles(ring), ring[0][0], ring[0][0], 2)
	items := make([]Item, n)
	for i := range items {
		items[i] = Item{Turns: []*outline.Outline{o}}
	}
	room := Room{Width: 400000, Length: 1000000, Last: 1000000, Pitch: 2000000, Sheets: 1}
	l := New(items, n, table.NewStore([]table.Shape{{Outline: o}}, 4), room, nil, 1)
	for i := range n {
		p, _ := l.anyPlace(i)
		l.put(i, p)
	}
	l.measure()
	return l
}

// TestLossIsKept moves items about and compares the overlaps kept with those of
// all pairs, found without the grid.
func TestLossIsKept(t *testing.T) {
	const n = 70
	l := bows(n)
	for range 500 {
		i := l.random.Below(n)
		p, _ := l.anyPlace(i)
		l.put(i, p)
		l.row(i)
	}
	for i := range n {
		for k := range i {
			a, b := l.boxes[i], l.boxes[k]
			meet := l.out[i].Meets(l.out[k], b.x0-a.x0, b.y0-a.y0)
			if kept := l.loss[i*n+k]; meet != (kept > 0) || kept != l.loss[k*n+i] {
				t.Errorf("%d and %d meet: %v; kept %v and %v", i, k, meet, kept, l.loss[k*n+i])
			}
		}
	}
}

// TestSeparate separates what has ample room.
func TestSeparate(t *testing.T) {
	l := bows(40)
	l.Begin()
	if l.Separate(nil, Patience{Rounds: 200, Strikes: 3}, 1<<40) != Separated || l.Loss() != 0 {
		t.Errorf("overlap of %v is left", l.Loss())
	}
	for i, b := range l.boxes {
		if b.x0 < 0 || b.y0 < 0 || b.x1 > l.Room.Width || b.y1 > l.Room.Last {
			t.Errorf("%d lies outside: %+v", i, b)
		}
	}
}

// Sheets that everything has left are taken away, the first, one in the middle and the last
// alike, and what lies behind them moves up with its overlaps as they were.
func TestFitTakesEmptySheetsAway(t *testing.T) {
	for _, held := range [][]int{{0, 1, 2, 3}, {0, 2}, {1, 3}, {2}, {0}} {
		l := bows(12)
		l.Room.Sheets = 4
		for i := range l.moving {
			p := l.Places[i]
			p.Y += l.start(held[i%len(held)])
			l.put(i, p)
		}
		l.measure()
		before := l.Loss()
		l.Fit()
		l.measure()
		if l.Room.Sheets != len(held) || l.Loss() != before || l.Room.Last != l.Used() || l.Room.Last <= 0 {
			t.Errorf("%v: %d sheets, overlap %v was %v, %v of the last", held, l.Room.Sheets, l.Loss(), before, l.Room.Last)
		}
		for i := range l.moving {
			if at := sheetOf(l, i); at != i%len(held) {
				t.Errorf("%v: %d lies on sheet %d", held, i, at)
			}
		}
	}
}
