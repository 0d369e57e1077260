package picture

import (
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// rectangles are those of what lies on a load: of its copies, or of the copies of all
// drawings that share it.
func rectangles(ld *layout.Load) []geometry.Box {
	var all []geometry.Box
	for _, at := range ld.Places {
		all = append(all, at.Bounds)
	}
	if len(all) == 0 {
		for _, at := range ld.Placements {
			all = append(all, at.Bounds)
		}
	}
	return all
}

// whoIsWhere draws a load that several drawings share a second time, without their lines:
// the place of each copy with its code in it, so that no code hides any work.
func whoIsWhere(p *page, l *layout.Layout, ld *layout.Load, m *weeding.Map, st stock) {
	if len(ld.Places) == 0 {
		return
	}
	title, code, codes := "Who is where", "code", "codes"
	if ld.Numbered() {
		title, code, codes = "Which copy is where", "number", "numbers"
	}
	p.Heading(title)
	missing := false
	p.eachRow(st, func() {
		p.Show(figure.Style{Fill: stockTint, Stroke: figure.Ink, Width: 1.8}, sheetsOf(ld, st)...)
		p.lead(st)
		drawPlaces(p, l, ld, m)
	}, func(row geometry.Box) { missing = writeCodes(p, l, ld, m, row) || missing })
	if missing {
		p.Paragraph(0, "Not every place has room for its "+code+"; the list below has all of them.")
	}
	p.Foot += 8
	p.Paragraph(0, "The "+codes+" from the loading edge on, each row from the left of the stock as it goes in:")
	for i, row := range ld.Rows() {
		p.Paragraph(0, strconv.Itoa(i+1)+": "+layout.Names(row))
	}
}

// drawPlaces draws the rectangle of each copy, blank, or its outline where copies lie by
// their shapes.
func drawPlaces(p *page, l *layout.Layout, ld *layout.Load, m *weeding.Map) {
	var all []geometry.Path
	if byShape(l) {
		for i := range m.Regions {
			if r := &m.Regions[i]; r.Kept() && r.Depth <= 1 {
				all = append(all, r.Outer.Transform(ld.Placements[0].Transform))
			}
		}
	} else {
		for _, box := range rectangles(ld) {
			all = append(all, box.Path())
		}
	}
	p.Show(figure.Style{Fill: figure.Paper, Stroke: figure.Ink, Width: 1.2}, all...)
}

// writeCodes writes the codes of the copies whose middle lies in the row, as large as they
// fit. It reports whether some had no room.
func writeCodes(p *page, l *layout.Layout, ld *layout.Load, m *weeding.Map, row geometry.Box) (missing bool) {
	for _, at := range ld.Places {
		p.b.Step()
		if c := at.Bounds.Centre(); c.Y < row.Min.Y || c.Y > row.Max.Y {
			continue
		}
		box := p.OnPage(at.Bounds)
		if byShape(l) {
			box = p.OnPage(widestIn(m, at, ld.Placements[0].Transform))
		}
		missing = !writeCode(p, box, at.Name()) || missing
	}
	return missing
}

// writeCode writes a code in the middle of a box, and reports whether it had room.
func writeCode(p *page, box geometry.Box, text string) bool {
	for _, size := range [...]float64{22, 17, 13} {
		if p.TextWidth(text, size, true)+6 <= box.Width() && size+4 <= box.Height() {
			p.Label(geometry.Pt(box.Centre().X, box.Centre().Y+0.36*size), size, text)
			return true
		}
	}
	return false
}

// widestIn is a square about where what is kept of a copy is widest, on the load.
func widestIn(m *weeding.Map, at layout.MemberPlace, onLoad geometry.Affine) geometry.Box {
	pick, radius := m.Bounds.Min, 0.0
	for i := range m.Regions {
		if r := &m.Regions[i]; at.Regions.Has(r.Number) && r.Kept() && r.PickRadiusMM > radius {
			pick, radius = r.Pick, r.PickRadiusMM
		}
	}
	return geometry.BoxAround(onLoad.Apply(pick)).Grow(radius)
}

// drawingsOn counts the drawings that share a load.
func drawingsOn(ld *layout.Load) int {
	codes := map[string]bool{}
	for _, at := range ld.Places {
		codes[at.Code] = true
	}
	return len(codes)
}
