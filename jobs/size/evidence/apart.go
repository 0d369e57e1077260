package evidence

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// apartShare is the share of a frame's longer side that lies empty, at least, between
// its surroundings and what lies apart from them: 3 mm for A4.
const apartShare = 0.01

// Apart lists the artwork that lies wholly beside the frame, behind an empty band all
// round it, and how far away that is, in drawing units. What joins work that sticks out
// of the frame is not apart; neither is all of the work.
func (f *Frame) Apart() (items []Item, away float64) {
	type outer struct {
		Item
		from, to float64 // distance from the frame, along its own axes
	}
	own := f.Own()
	reach, band := 0.0, apartShare*math.Max(f.U, f.V)
	var beside []outer
	for _, it := range f.Work.Items {
		b := geometry.EmptyBox()
		for _, c := range it.Box.Corners() {
			b = b.Include(own.Apply(c))
		}
		at := outer{it, max(-b.Max.X, b.Min.X-f.U, -b.Max.Y, b.Min.Y-f.V), max(-b.Min.X, b.Max.X-f.U, -b.Min.Y, b.Max.Y-f.V)}
		if at.from > 0 {
			beside = append(beside, at)
		} else {
			reach = max(reach, at.to)
		}
	}
	slices.SortStableFunc(beside, func(p, q outer) int { return cmp.Compare(p.from, q.from) })
	for len(beside) > 0 && beside[0].from <= reach+band {
		reach = max(reach, beside[0].to)
		beside = beside[1:]
	}
	drawn := 0
	for _, at := range beside {
		items = append(items, at.Item)
		if !at.speck {
			drawn++
		}
	}
	if f.Beside || drawn == 0 || len(items) == len(f.Work.Items) {
		return nil, 0
	}
	return items, beside[0].from
}
