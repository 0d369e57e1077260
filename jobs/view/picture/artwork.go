package picture

import (
	"context"
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// Artwork draws every line with its operation, and the findings by number:
// those of the artwork after earlier ones, which have their places on it too. It
// fails only with the error of ctx.
func Artwork(ctx context.Context, a *artwork.Artwork, earlier ...finding.Finding) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page { return artworkPage(b, a, nil, slices.Concat(earlier, a.Findings)) })
}

// InQuestion is Artwork while something is asked about it: below its lines it
// shows all that was drawn, of which some may wait for an answer.
func InQuestion(ctx context.Context, d *read.Result, s *size.Result, a *artwork.Artwork, earlier ...finding.Finding) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page {
		drawn, _ := apart(b, d, s)
		shift := geometry.Translate(-a.Origin.X, -a.Origin.Y)
		for i := range drawn {
			b.Spend(len(drawn[i].Segments))
			drawn[i] = drawn[i].Transform(shift)
		}
		return artworkPage(b, a, drawn, slices.Concat(earlier, a.Findings))
	})
}

func artworkPage(b *budget.Budget, a *artwork.Artwork, drawn []geometry.Path, findings []finding.Finding) *page {
	p := newPage(b, "Artwork", artworkSubtitle(a))
	p.asked(a.Questions, nil)
	bounds := a.Bounds
	switch {
	case len(a.Strokes) == 0 && len(drawn) > 0:
		bounds = boundsOf(b, drawn)
	case len(drawn) > 0:
		bounds = bounds.Union(boundsOf(b, drawn))
	}
	p.Open(withMarks(bounds, findings), figure.Inset{Dimensions: true, Marked: len(findings)+len(a.Questions) > 0})
	if len(drawn) > 0 {
		p.ShowWork(waitingStyle(), p.DetailOf(drawn, 1).Shown...)
	}
	d := p.strokes(a.Strokes, []geometry.Affine{geometry.Identity}, false)
	switch {
	case len(a.Strokes)+len(drawn) == 0:
		p.Blank("There is no line to cut or draw.")
	case len(a.Strokes) > 0:
		p.Dimensions(p.OnPage(a.Bounds), p.OnPage(a.Bounds), figure.Number(a.Bounds.Width())+" mm", figure.Number(a.Bounds.Height())+" mm")
		p.ScaleBar()
	}
	number := tagNames(findings)
	p.markFindings(findings, number, mostMarks)
	p.markParts(a.Questions)
	lengths := map[artwork.Operation]float64{}
	for i := range a.Strokes {
		path := a.Strokes[i].Path
		b.Spend(1 + len(path.Segments))
		lengths[a.Strokes[i].Operation] += path.Length()
	}
	p.lineLegend(a.Strokes, func(op artwork.Operation) string { return ", " + total(lengths[op]) + " in all" })
	if len(drawn) > 0 {
		p.Legend("drawn; what is done there may wait for an answer", p.LineSwatch(waitingStyle()))
	}
	p.findingLegend(findings, number, mostMarks)
	p.leftOut(d)
	return p
}

func artworkSubtitle(a *artwork.Artwork) string {
	if len(a.Strokes) == 0 && len(a.Questions) > 0 {
		return "in question: please answer"
	}
	return fmt.Sprintf("%s, %s, true size", sizeText(a.Bounds.Width(), a.Bounds.Height()), count(len(a.Strokes), "line", "lines"))
}

// marksBeside is how far beside the artwork marks are shown, in lengths of its
// longer side: farther out they would leave too little room for the lines.
const marksBeside = 3

// withMarks grows the bounds of the artwork to the places beside it that are
// marked, such as that of a text that was left out. A place all round the
// artwork, as a frame has, would only make the lines small.
func withMarks(bounds geometry.Box, fs []finding.Finding) geometry.Box {
	near := bounds.Grow(marksBeside * max(bounds.Width(), bounds.Height()))
	all := bounds
	for _, f := range fs[:min(len(fs), mostFindings)] {
		for _, place := range f.Places[:min(len(f.Places), mostMarks)] {
			if b := place.Box; !place.Nowhere() && near.ContainsBox(b) && !b.ContainsBox(bounds) {
				all = all.Union(b)
			}
		}
	}
	return all
}
