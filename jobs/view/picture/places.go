package picture

import (
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/layout"
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
func whoIsWhere(p *page, ld *layout.Load, st stock) {
	if len(ld.Places) == 0 {
		return
	}
	p.Heading("Who is where")
	missing := false
	p.eachRow(st, func() {
		p.Show(figure.Style{Fill: stockTint, Stroke: figure.Ink, Width: 1.8}, sheetsOf(ld, st)...)
		p.lead(st)
		drawPlaces(p, ld)
	}, func(row geometry.Box) { missing = writeCodes(p, ld, row) || missing })
	if missing {
		p.Paragraph(0, "Not every place has room for its code; the list below has all of them.")
	}
	p.Paragraph(0, "The codes from the loading edge on, each row from the left of the stock as it goes in:")
	for i, row := range ld.Rows() {
		p.Paragraph(0, strconv.Itoa(i+1)+": "+layout.Names(row))
	}
}

// drawPlaces draws the rectangle of each copy, blank.
func drawPlaces(p *page, ld *layout.Load) {
	var boxes []geometry.Path
	for _, box := range rectangles(ld) {
		boxes = append(boxes, box.Path())
	}
	p.Show(figure.Style{Fill: figure.Paper, Stroke: figure.Ink, Width: 1.2}, boxes...)
}

// writeCodes writes the codes of the copies whose middle lies in the row, as large as they fit.
// It reports whether some had no room.
func writeCodes(p *page, ld *layout.Load, row geometry.Box) (missing bool) {
	for _, at := range ld.Places {
		p.b.Step()
		if c := at.Bounds.Centre(); c.Y < row.Min.Y || c.Y > row.Max.Y {
			continue
		}
		box, text := p.OnPage(at.Bounds), at.Name()
		written := false
		for _, size := range [...]float64{22, 17, 13, 10, 8} {
			if p.TextWidth(text, size, true)+6 <= box.Width() && size+4 <= box.Height() {
				p.Label(geometry.Pt(box.Centre().X, box.Centre().Y+0.36*size), size, text)
				written = true
				break
			}
		}
		missing = missing || !written
	}
	return missing
}

// drawingsOn counts the drawings that share a load.
func drawingsOn(ld *layout.Load) int {
	codes := map[string]bool{}
	for _, at := range ld.Places {
		codes[at.Code] = true
	}
	return len(codes)
}
