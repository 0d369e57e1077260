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
	unnumbered := false
	p.eachRow(st, func() {
		p.Show(figure.Style{Fill: stockTint, Stroke: figure.Ink, Width: 1.8}, sheetsOf(ld, st)...)
		if offcut != nil {
			p.Fill(offcutPattern(), []geometry.Path{p.OnPage(*offcut).Path()})
			p.Show(figure.Style{Stroke: figure.Faint, Width: 1}, offcut.Path())
		}
		left = p.copies(ld, m)
	}, func(row geometry.Box) {
		unnumbered = p.copyNumbers(ld, row) || unnumbered
	})
	p.ScaleBar()
	p.feed(st.turned)
	p.layoutLegend(l, ld, m, offcut)
	p.leftOut(left)
	if unnumbered {
		p.Paragraph(0, "Not every copy has room for its number.")
	}
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
	text := fmt.Sprintf("load %d of %d: %s of stock, %s", load, len(l.Loads),
		sizeText(ld.WidthMM, ld.LengthMM), count(len(ld.Placements), "copy", "copies"))
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

// copies draws the rectangle of each copy and its lines in it.
func (p *page) copies(ld *layout.Load, m *weeding.Map) figure.Detail {
	boxes := make([]geometry.Path, len(ld.Placements))
	places := make([]geometry.Affine, len(ld.Placements))
	for i, pl := range ld.Placements {
		boxes[i], places[i] = pl.Bounds.Path(), pl.Transform
	}
	p.Show(copyStyle(), boxes...)
	return p.strokes(m.Strokes, places, true)
}

// copyNumbers numbers the copies whose middle lies in the row, each in the
// upper left corner of its rectangle. It reports whether some had no room.
func (p *page) copyNumbers(ld *layout.Load, row geometry.Box) (missing bool) {
	const r, least = 12.0, 8.0
	for _, pl := range ld.Placements {
		p.b.Step()
		if c := pl.Bounds.Centre(); c.Y < row.Min.Y || c.Y > row.Max.Y {
			continue
		}
		b := p.OnPage(pl.Bounds)
		text := copyName(ld, pl)
		room := min(b.Width(), b.Height()) / 2
		if room < least || p.TextWidth(text, 10, true) > 2*room {
			missing = true
			continue
		}
		corner := geometry.Pt(b.Min.X+r+4, b.Min.Y+r+4)
		if corner.X < p.Area.Min.X {
			corner.X = b.Centre().X // the corner is in the row before
		}
		size := 14.0
		if room < r+4 {
			corner, size = b.Centre(), 10
		}
		p.Badge(corner, min(r, room), size, badgeStyle(), text)
	}
	return missing
}

func (p *page) layoutLegend(l *layout.Layout, ld *layout.Load, m *weeding.Map, offcut *geometry.Box) {
	if len(ld.Placements) > 0 {
		p.Legend(copyLegend(ld), p.BoxSwatch(copyStyle()))
		p.paleLegend(m)
	}
	if offcut != nil {
		p.Legend("largest offcut worth keeping, "+sizeText(offcut.Width(), offcut.Height()), func(b geometry.Box) {
			p.Fill(offcutPattern(), []geometry.Path{b.Path()})
			p.Draw(figure.Style{Stroke: figure.Faint, Width: 1}, b.Path())
		})
	}
	p.tellPanels(l, m)
	if l.Mirrored {
		p.Paragraph(0, "Mirrored: the cut side is the back.")
	}
}
