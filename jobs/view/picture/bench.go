package picture

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// BenchMap draws the weeding map small, as a plate w × h mm for a worksheet, with
// the numbers of its steps and what its hatches mean. It is nil where the numbers
// have no room: the map then needs pages of its own. It fails only with the error
// of ctx.
func BenchMap(ctx context.Context, m *weeding.Map, w, h float64) (*figure.Picture, error) {
	var done *figure.Picture
	err := budget.Run(ctx, func(b *budget.Budget) {
		s := newSheet(plate(b, w, h-legendRoom(m)), m.AsItLies(b))
		s.Open(s.extent, figure.Inset{})
		s.content()
		all := s.place(s.m.Steps)
		if len(m.Strokes) == 0 || s.crowded(all) {
			return
		}
		s.number(all)
		s.Foot += 20 // numbers may stand below the work
		if s.m.Mirrored {
			s.Paragraph(0, "Mirrored, as it lies on the "+lying(s.m)+".")
		}
		s.classLegend()
		done = s.Finish()
	})
	return done, err
}

// legendRoom is how high in mm the legend of a small map is.
func legendRoom(m *weeding.Map) float64 {
	const lines, apart = 5.2, 3.9 // mm
	has := map[weeding.Class]bool{}
	for i := range m.Regions {
		has[m.Regions[i].Class] = true
	}
	n := len(has)
	if m.Mirrored {
		n++
	}
	return lines + apart*float64(n)
}

// BenchLayout draws a load small, as a plate w × h mm for a worksheet: the stock
// with its loading edge and feed, and the copies with their numbers, or where several
// drawings share it the places of their copies with their codes. It fails where
// there is no such load, and with the error of ctx.
func BenchLayout(ctx context.Context, l *layout.Layout, m *weeding.Map, load int, w, h float64) (*figure.Picture, error) {
	ld, err := pick(l, load)
	if err != nil {
		return nil, err
	}
	return finished(ctx, func(b *budget.Budget) *page {
		const feedRoom = 9 // mm, beside or below the stock
		p := plate(b, w, h-feedRoom)
		st := stockOf(l, ld)
		p.Open(st.box, figure.Inset{Turned: st.turned})
		p.ShowWork(figure.Style{Fill: figure.Paper, Stroke: figure.Ink, Width: 1.6}, sheetsOf(ld, st)...)
		if len(ld.Places) > 0 {
			drawPlaces(p, l, ld, m)
			p.Zone = figure.ZoneMarks
			writeCodes(p, l, ld, m, st.box)
			p.loadingEdge(st)
			return p
		}
		p.copies(l, ld, m)
		p.Zone = figure.ZoneMarks
		unnumbered := false
		switch {
		case byShape(l):
			numbersInside(p, ld, m, st.box)
		case !isOnly(l, ld):
			unnumbered = p.copyNumbers(ld, st.box)
		}
		p.loadingEdge(st)
		if unnumbered {
			tellNumbers(p, ld)
		}
		return p
	})
}

// plate is a page without a heading, w × h mm in print.
func plate(b *budget.Budget, w, h float64) *page {
	return &page{Page: figure.Plate(b, figure.Printed(w, h)), b: b}
}

// loadingEdge draws the edge that goes in first as a broad line, and below the stock which
// way that is fed.
func (p *page) loadingEdge(st stock) {
	p.lead(st)
	fed(p, st)
}

// fed shows below the stock which way it is fed, where its loading edge is.
func fed(p *page, st stock) {
	p.Zone = figure.ZoneMarks
	x, textAt := p.View.Apply(st.box.Min).X, 24.0
	arrow := figure.Style{Stroke: figure.Ink, Width: 2.6}
	if st.turned {
		p.Arrow(arrow, geometry.Pt(x+40, p.Foot+14), geometry.Pt(-1, 0), 40)
		textAt = 48
	} else {
		p.Arrow(arrow, geometry.Pt(x+12, p.Foot-2), geometry.Pt(0, 1), 26)
	}
	p.Foot += 19
	p.ParagraphAt(x+textAt, leadText)
}

// WeedingPages draws the weeding map for print: the whole on one page, and each part
// that it has to be enlarged in on a page of its own, none larger than w × h mm. It
// fails only with the error of ctx.
func WeedingPages(ctx context.Context, m *weeding.Map, w, h float64) ([]*figure.Picture, error) {
	var pages []*figure.Picture
	err := budget.Run(ctx, func(b *budget.Budget) {
		m = m.AsItLies(b)
		s := newSheet(printedPage(b, w, h, weedingTitle(m), weedingSubtitle(m)), m)
		s.whole()
		s.ScaleBar()
		s.legends()
		s.leftOut(s.left)
		pages = append(pages, s.Finish())
		for _, t := range s.tiles {
			part := newSheet(printedPage(b, w, h, "Part "+t.name, stepsText(t)), m)
			part.part(t)
			pages = append(pages, part.Finish())
		}
	})
	return pages, err
}

// printedPage is a page with a heading, w × h mm in print, two thirds of which a
// drawing may fill.
func printedPage(b *budget.Budget, w, h float64, title, subtitle string) *page {
	format := figure.Printed(w, h*2/3)
	return &page{Page: figure.New(b, format, title, subtitle), b: b, open: map[finding.Code]bool{}}
}
