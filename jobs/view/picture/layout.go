package picture

import (
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// Layout draws one load of the layout, numbered from 1: the stock, the copies
// and the offcut. It fails where there is no such load, and with the error of
// ctx.
func Layout(ctx context.Context, l *layout.Layout, m *weeding.Map, load int) (*figure.Picture, error) {
	ld, err := pick(l, load)
	if err != nil {
		return nil, err
	}
	return finished(ctx, func(b *budget.Budget) *page { return layoutPage(b, l, ld, m, load) })
}

func layoutPage(b *budget.Budget, l *layout.Layout, ld *layout.Load, m *weeding.Map, load int) *page {
	p := newPage(b, "Layout", layoutSubtitle(l, ld, load))
	p.asked(l.Questions, nil)
	var offcut *geometry.Box
	if load == len(l.Loads) {
		offcut = l.Usage.Offcut
	}
	st := stockOf(l, ld)
	var left figure.Detail
	named, unnumbered := false, false
	p.eachRow(st, func() {
		p.ShowWork(figure.Style{Fill: stockTint, Stroke: figure.Ink, Width: 1.8}, sheetsOf(ld, st)...)
		p.lead(st)
		if offcut != nil {
			p.Fill(offcutPattern(), []geometry.Path{p.OnPage(*offcut).Path()})
			p.Show(figure.Style{Stroke: figure.Faint, Width: 1}, offcut.Path())
		}
		left = p.copies(l, ld, m)
	}, func(row geometry.Box) {
		if offcut != nil && !named {
			named = nameOffcut(p, *offcut, row)
		}
		switch {
		case len(ld.Places) > 0: // who is where follows
			return
		case byShape(l):
			unnumbered = numbersInside(p, ld, m, row) || unnumbered
			return
		case isOnly(l, ld):
			return
		}
		unnumbered = p.copyNumbers(ld, row) || unnumbered
	})
	p.ScaleBar()
	p.layoutLegend(l, ld, m, offcut)
	p.leftOut(left)
	if unnumbered {
		tellNumbers(p, ld)
	}
	whoIsWhere(p, l, ld, m, st)
	return p
}

// sheetsOf returns the outlines of the stock in a load: of one sheet or run, or of the
// sheets that share a mat.
func sheetsOf(ld *layout.Load, st stock) []geometry.Path {
	if len(ld.Sheets) == 0 {
		return []geometry.Path{st.box.Path()}
	}
	paths := make([]geometry.Path, len(ld.Sheets))
	for i, sheet := range ld.Sheets {
		paths[i] = sheet.Path()
	}
	return paths
}

// offcutPattern marks what is left over.
func offcutPattern() figure.Pattern {
	return figure.Pattern{Deg: -45, Gap: 11, Line: figure.Style{Stroke: "#9aa0ad", Width: 0.9}}
}

func layoutSubtitle(l *layout.Layout, ld *layout.Load, load int) string {
	long := ld.LengthMM
	if stockOf(l, ld).roll {
		long = cutOff(long)
	}
	text := fmt.Sprintf("load %d of %d: %s of stock, %s", load, len(l.Loads),
		sizeText(ld.WidthMM, long), count(len(rectangles(ld)), "copy", "copies"))
	if len(ld.Places) > 0 && !ld.Numbered() {
		text += " of " + count(drawingsOn(ld), "drawing", "drawings")
	}
	if on := l.PanelOf(ld); on != nil {
		text += fmt.Sprintf(" of panel %s, %s", on.Code, sizeText(on.Box.Width(), on.Box.Height()))
	}
	if n := len(ld.Sheets); n > 0 {
		text += ", " + count(n, "sheet", "sheets")
	}
	if ld.MatID != "" {
		text += ", on mat " + ld.MatID
	}
	return text
}

// copies draws the rectangle of each copy, or its shape, and its lines in it.
func (p *page) copies(l *layout.Layout, ld *layout.Load, m *weeding.Map) figure.Detail {
	var boxes []geometry.Path
	for _, box := range rectangles(ld) {
		boxes = append(boxes, box.Path())
	}
	places := make([]geometry.Affine, len(ld.Placements))
	for i, pl := range ld.Placements {
		places[i] = pl.Transform
	}
	if byShape(l) {
		keptOf(p, ld, m)
	} else {
		p.Show(copyStyle(), boxes...)
	}
	return p.strokes(m.Strokes, places, true)
}

func (p *page) layoutLegend(l *layout.Layout, ld *layout.Load, m *weeding.Map, offcut *geometry.Box) {
	switch {
	case len(ld.Placements) == 0:
	case len(ld.Places) > 0 && byShape(l):
		p.paleLegend(m)
	case byShape(l):
		p.Legend("what is kept of a copy, its number beside it", p.BoxSwatch(figure.Style{Fill: figure.Paper, Stroke: figure.Faint, Width: 1}))
		p.paleLegend(m)
	default:
		p.Legend(copyLegend(l, ld), p.BoxSwatch(copyStyle()))
		p.paleLegend(m)
	}
	if offcut != nil {
		p.Legend("largest offcut worth keeping, "+kept(*offcut), func(b geometry.Box) {
			p.Fill(offcutPattern(), []geometry.Path{b.Path()})
			p.Draw(figure.Style{Stroke: figure.Faint, Width: 1}, b.Path())
		})
	}
	if l.Nested == nil {
		tellLanes(p, ld)
	} else {
		p.Paragraph(0, l.Nested.Means)
	}
	tellPanels(p, l, m)
	if l.Mirrored {
		p.Paragraph(0, "Mirrored, as it lies on the stock: letters read backwards.")
	}
}
