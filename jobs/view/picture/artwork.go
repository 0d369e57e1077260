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
)

// Artwork draws every line with its operation, and the findings by number:
// those of the artwork after earlier ones, which have their places on it too. It
// fails only with the error of ctx.
func Artwork(ctx context.Context, a *artwork.Artwork, earlier ...finding.Finding) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page { return artworkPage(b, a, slices.Concat(earlier, a.Findings)) })
}

func artworkPage(b *budget.Budget, a *artwork.Artwork, findings []finding.Finding) *page {
	p := newPage(b, "Artwork", fmt.Sprintf("%s, %s, true size", sizeText(a.Bounds.Width(), a.Bounds.Height()), count(len(a.Strokes), "line", "lines")))
	p.Open(withMarks(a.Bounds, findings), figure.Inset{Dimensions: true})
	d := p.strokes(a.Strokes, []geometry.Affine{geometry.Identity}, false)
	number := tagNames(findings)
	p.markFindings(findings, number, mostMarks)
	p.markParts(a.Questions)
	if len(a.Strokes) == 0 {
		p.Blank("There is no line to cut or draw.")
	} else {
		p.Dimensions(p.OnPage(a.Bounds), figure.Number(a.Bounds.Width())+" mm", figure.Number(a.Bounds.Height())+" mm")
		p.ScaleBar()
	}
	lengths := map[artwork.Operation]float64{}
	for i := range a.Strokes {
		path := a.Strokes[i].Path
		b.Spend(1 + len(path.Segments))
		lengths[a.Strokes[i].Operation] += path.Length()
	}
	p.lineLegend(a.Strokes, func(op artwork.Operation) string { return ", " + total(lengths[op]) + " in all" })
	p.findingLegend(findings, number, mostMarks)
	p.leftOut(d)
	p.asked(a.Questions)
	return p
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
