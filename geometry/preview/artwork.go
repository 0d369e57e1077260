package preview

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
)

// Artwork draws every line with its operation, and the findings by number.
func Artwork(a *artwork.Artwork) *Picture {
	p := newPage("Artwork", fmt.Sprintf("%s, %s, true size", sizeText(a.Bounds.Width(), a.Bounds.Height()), count(len(a.Strokes), "line", "lines")))
	p.open(a.Bounds, inset{side: sideRoom, foot: footRoom})
	d := p.strokes(a.Strokes, []geometry.Affine{geometry.Identity}, false)
	number := tagNames(a.Findings)
	p.markFindings(a.Findings, number, mostMarks)
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
	p.findingLegend(a.Findings, number, mostMarks)
	p.leftOut(d)
	p.asked(a.Questions)
	return p.finish()
}
