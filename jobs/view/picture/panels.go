package picture

import (
	"slices"
	"strconv"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// copyName is what stands on a copy: its number, or that of its panel.
func copyName(ld *layout.Load, pl layout.Placement) string {
	if ld.Map > 0 {
		return "P" + strconv.Itoa(ld.Map)
	}
	return strconv.Itoa(pl.Copy)
}

func copyLegend(l *layout.Layout, ld *layout.Load) string {
	if isOnly(l, ld) {
		return "the copy in its own rectangle"
	}
	if ld.Numbered() {
		return "a copy in its own rectangle; its number is shown below"
	}
	if len(ld.Places) > 0 {
		return "a copy in its own rectangle; whose it is is shown below"
	}
	if ld.Map > 0 {
		return "a panel in its own rectangle, its number beside it"
	}
	return "a copy in its own rectangle, its number beside it"
}

// tellPanels says how the panels of a layout are put together.
func tellPanels(p *page, l *layout.Layout, m *weeding.Map) {
	if l.Panels == nil {
		return
	}
	tellMarks(p, m)
	p.Paragraph(0, l.Panels.Hang())
}

// tellMarks says what the register marks of a panel, or of a film, are for.
func tellMarks(p *page, m *weeding.Map) {
	i := slices.IndexFunc(m.Strokes, func(s artwork.Stroke) bool { return s.Added == artwork.Mark })
	if i < 0 {
		return
	}
	if m.Panel == "" && !slices.ContainsFunc(m.Strokes, func(s artwork.Stroke) bool { return s.Added == artwork.Seam }) {
		p.Paragraph(0, "The small crosses beside the work are register marks: they stay, and the films lie right where their crosses cover each other.")
		return
	}
	if !m.Strokes[i].Path.Closed {
		p.Paragraph(0, "The short slits in the glue tab begin where the edge of the next panel comes, which covers them.")
		return
	}
	if len(m.Strokes[i].Path.Segments) == 3 {
		p.Paragraph(0, "The small triangles beside the work are register marks: they stay, and the panels lie right where their tips meet.")
		return
	}
	p.Paragraph(0, "The small crosses beside the work are register marks: they stay, and the panels lie right where their crosses cover each other.")
}
