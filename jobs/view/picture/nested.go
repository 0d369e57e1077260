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
// largest part is widest, or beside it with a leader. It reports whether some had no room.
func numbersInside(p *page, ld *layout.Load, m *weeding.Map, row geometry.Box) (missing bool) {
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
		missing = !numberWithin(p, at, strconv.Itoa(pl.Copy)) || missing
	}
	return missing
}

// numberWithin writes a number in the middle of a square (pixels), or near it with a leader,
// and reports whether it had room.
func numberWithin(p *page, at geometry.Box, text string) bool {
	const reach = 60 // pixels
	c := at.Centre()
	for _, b := range badgeSizes(len(text)) {
		if b[0] <= at.Width()/2 && p.Spots.Free(c, b[0]) && !p.Spots.OnLine(c, b[0]) {
			p.Badge(c, b[0], b[1], badgeStyle(), text)
			p.Spots.Take(c, b[0]+1)
			return true
		}
	}
	b := badgeSizes(len(text))[1]
	beside, ok := p.Spots.Beside(c, b[0], reach, nil)
	if ok {
		p.Leader(beside, b[0], c, figure.Ink)
		p.Badge(beside, b[0], b[1], badgeStyle(), text)
		p.Spots.Take(beside, b[0]+1)
	}
	return ok
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
