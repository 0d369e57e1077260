package picture

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/layout"
)

// tellLanes says how many copies lie side by side and one behind the other, and how far
// apart, where they lie in rows.
func tellLanes(p *page, ld *layout.Load) {
	boxes := rectangles(ld)
	across := lanesOf(boxes, func(b geometry.Box) (float64, float64) { return b.Min.X, b.Max.X })
	along := lanesOf(boxes, func(b geometry.Box) (float64, float64) { return b.Min.Y, b.Max.Y })
	if len(boxes) < 2 || len(across) == 0 || len(along) == 0 {
		return
	}
	text := fmt.Sprintf("%s across", count(len(across), "lane", "lanes"))
	if len(across) > 1 {
		text += ", " + figure.Number(across[1].from-across[0].to) + " mm apart"
	}
	text += fmt.Sprintf("; %s along the feed", count(len(along), "row", "rows"))
	if len(along) > 1 {
		text += ", " + figure.Number(along[1].from-along[0].to) + " mm apart"
	}
	p.Paragraph(0, text+".")
}

// lane is what copies that lie in a line take up along one axis, in mm.
type lane struct{ from, to float64 }

// lanesOf parts boxes into lanes along an axis, in order. There are none where copies of
// one lane begin at different places or reach into the next: they then lie in no rows.
func lanesOf(boxes []geometry.Box, along func(geometry.Box) (lo, hi float64)) []lane {
	const same = 0.05 // mm
	all := make([]lane, 0, len(boxes))
	for _, b := range boxes {
		from, to := along(b)
		all = append(all, lane{from, to})
	}
	slices.SortFunc(all, func(a, b lane) int { return int(math.Copysign(1, a.from-b.from)) })
	var lanes []lane
	for _, one := range all {
		switch n := len(lanes); {
		case n > 0 && one.from-lanes[n-1].from < same:
			lanes[n-1].to = max(lanes[n-1].to, one.to)
		case n > 0 && one.from < lanes[n-1].to:
			return nil
		default:
			lanes = append(lanes, one)
		}
	}
	return lanes
}

// nameOffcut writes the size of the offcut on what a row shows of it, and reports whether
// that has room.
func nameOffcut(p *page, offcut, row geometry.Box) bool {
	const size, half = 13.0, 11.0
	b := p.OnPage(geometry.Box{
		Min: geometry.Pt(max(offcut.Min.X, row.Min.X), max(offcut.Min.Y, row.Min.Y)),
		Max: geometry.Pt(min(offcut.Max.X, row.Max.X), min(offcut.Max.Y, row.Max.Y)),
	})
	for _, text := range []string{"offcut, " + kept(offcut), kept(offcut)} {
		reach := geometry.Pt(p.TextWidth(text, size, true)/2+8, half)
		box := geometry.BoxAround(b.Centre().Sub(reach), b.Centre().Add(reach))
		if b.Grow(-4).ContainsBox(box) && p.Spots.Clear(box) {
			p.Draw(figure.Style{Fill: figure.Paper}, box.Path())
			p.Label(geometry.Pt(b.Centre().X, b.Centre().Y+0.36*size), size, text)
			p.Spots.TakeBox(box)
			return true
		}
	}
	return false
}
