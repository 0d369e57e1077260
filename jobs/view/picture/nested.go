package picture

import (
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// byShape reports whether the copies lie by their true shapes, so that their
// rectangles overlap and would say nothing.
func byShape(l *layout.Layout) bool { return l.Nested != nil && l.Nested.Better }

func shapeStyle() figure.Style { return figure.Style{Fill: figure.Paper} }

// keptOf fills what is kept of each copy.
func keptOf(p *page, ld *layout.Load, m *weeding.Map) {
	var paths []geometry.Path
	for i := range m.Regions {
		if r := &m.Regions[i]; r.Kept() {
			paths = append(append(paths, r.Outer), r.Holes...)
		}
	}
	d := p.DetailOf(paths, len(ld.Placements))
	var shown []geometry.Path
	for _, pl := range ld.Placements {
		for _, path := range d.Shown {
			if q := p.Visible(path, pl.Transform); !q.Empty() {
				shown = append(shown, q)
			}
		}
	}
	p.Draw(shapeStyle(), shown...)
}

// numbersInside numbers the copies whose middle lies in the row, each where its
// largest part is widest. It reports whether some had no room.
func numbersInside(p *page, ld *layout.Load, m *weeding.Map, row geometry.Box) (missing bool) {
	const r, least = 12.0, 8.0
	widest := widestOf(m)
	if widest == nil {
		return len(ld.Placements) > 0
	}
	for _, pl := range ld.Placements {
		p.b.Step()
		if c := pl.Bounds.Centre(); c.Y < row.Min.Y || c.Y > row.Max.Y {
			continue
		}
		at := p.OnPage(geometry.BoxAround(pl.Transform.Apply(widest.Pick)).Grow(widest.PickRadiusMM))
		text := strconv.Itoa(pl.Copy)
		room := at.Width() / 2
		if room < least || p.TextWidth(text, 10, true) > 2*room {
			missing = true
			continue
		}
		size := 14.0
		if room < r+4 {
			size = 10
		}
		p.Badge(at.Centre(), min(r, room), size, badgeStyle(), text)
	}
	return missing
}

// widestOf is the kept region in which the largest circle lies; nil: there is none.
func widestOf(m *weeding.Map) (widest *weeding.Region) {
	for i := range m.Regions {
		if one := &m.Regions[i]; one.Kept() && (widest == nil || one.PickRadiusMM > widest.PickRadiusMM) {
			widest = one
		}
	}
	return widest
}
