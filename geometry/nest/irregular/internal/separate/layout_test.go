package separate

import (
	"testing"

	"knifedesk/geometry/nest/irregular/internal/outline"
)

func TestDbg(t *testing.T) {
	u := [][]outline.Point{{{X: 0, Y: 0}, {X: 140000, Y: 0}, {X: 140000, Y: 50000}, {X: 120000, Y: 50000}, {X: 120000, Y: 20000}, {X: 20000, Y: 20000}, {X: 20000, Y: 50000}, {X: 0, Y: 50000}}}
	o := outline.New(u, outline.Poles(u), u[0][0], u[0][0], 2)
	items := []Item{}
	for range 70 {
		items = append(items, Item{Turns: []*outline.Outline{o}})
	}
	room := Room{Width: 400000, Length: 1000000, Last: 1000000, Pitch: 2000000, Sheets: 1}
	l := New(items, 70, room, nil, 1)
	for i := range 70 {
		p, _ := l.anyPlace(i)
		l.put(i, p)
	}
	for range 1000 {
		i := l.random.Below(70)
		p, _ := l.anyPlace(i)
		l.put(i, p)
		l.row(i)
	}
	for i := range 70 {
		for k := range i {
			a, b := l.boxes[i], l.boxes[k]
			m := o.Meets(o, b.x0-a.x0, b.y0-a.y0)
			if m != (l.loss[i*70+k] > 0) {
				t.Error(i, k, m, o.Near(o, b.x0-a.x0, b.y0-a.y0), o.Meets(o, a.x0-b.x0, a.y0-b.y0), l.loss[i*70+k], b.x0-a.x0, b.y0-a.y0)
			}
		}
	}
}
