package figure

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Target takes the figures of a picture one after the other, those on top last, in
// pixels with y down.
type Target interface {
	// Clip hides what follows outside of a box; nil: nothing.
	Clip(box *geometry.Box)
	// Ink draws polylines together, filled by the even-odd rule. A closed one ends
	// where it starts.
	Ink(lines [][]geometry.Point, s Style)
	// Write writes a line of text, size pixels high, whose baseline passes through a
	// point: at its left end, or at its middle.
	Write(at geometry.Point, size float64, bold, centred bool, ink, text string)
}

// Send hands the picture's figures to a target. It fails with the error of ctx where
// that ends.
func (p *Picture) Send(ctx context.Context, to Target) error {
	const tolerance = 0.1 // pixels
	return budget.Run(ctx, func(b *budget.Budget) {
		var clip *geometry.Box
		for _, f := range p.figures {
			if f.clip != clip {
				to.Clip(f.clip)
				clip = f.clip
			}
			if f.text != "" {
				to.Write(f.at, f.size, f.bold, f.align == middle, f.style.Fill, f.text)
				continue
			}
			lines := make([][]geometry.Point, len(f.paths))
			for i, path := range f.paths {
				lines[i] = flatten(b, path, tolerance)
			}
			to.Ink(lines, f.style)
		}
		if clip != nil {
			to.Clip(nil)
		}
	})
}
