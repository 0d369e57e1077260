package preview

import (
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/finding"
)

// Artwork draws every line with its operation, and the findings by number:
// those of the artwork after earlier ones, which have their places on it too.
func Artwork(a *artwork.Artwork, earlier ...finding.Finding) *Picture {
	p := newPage("Artwork", fmt.Sprintf("%s, %s, true size", sizeText(a.Bounds.Width(), a.Bounds.Height()), count(len(a.Strokes), "line", "lines")))
	p.open(a.Bounds, inset{side: sideRoom, foot: footRoom})
	d := p.strokes(a.Strokes, []geometry.Affine{geometry.Identity}, false)
	findings := slices.Concat(earlier, a.Findings)
	number := tagNames(findings)
	p.markFindings(findings, number, mostMarks)
	if len(a.Strokes) == 0 {
		p.blank("There is no line to cut or draw.")
	} else {
		p.dimensions(p.onPage(a.Bounds), trim(a.Bounds.Width())+" mm", trim(a.Bounds.Height())+" mm")
		p.scaleBar()
	}
	lengths := map[artwork.Operation]float64{}
	for i := range a.Strokes {
		lengths[a.Strokes[i].Operation] += a.Strokes[i].Path.Length()
	}
	p.lineLegend(a.Strokes, func(op artwork.Operation) string { return ", " + total(lengths[op]) + " in all" })
	p.findingLegend(findings, number, mostMarks)
	p.leftOut(d)
	p.asked(a.Questions)
	return p.finish()
}
