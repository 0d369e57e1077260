package meaning

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
)

// putAside keeps lines that are not run as they were drawn, so that who gets the
// drawing back misses none of them; open: they wait for an answer.
func (k *desk) putAside(lines []line, open bool) {
	for i := range lines {
		k.budget.Step()
		l := &lines[i]
		k.aside = append(k.aside, artwork.Aside{Path: l.path, Layer: l.shape.Layer, Colour: ink(l.shape), Open: open})
	}
}

// ink is the colour that a shape is told by: its line's, for want of one its fill's.
func ink(s *drawing.Shape) *drawing.Colour {
	if s.Stroke == nil {
		return s.Fill
	}
	return s.Stroke
}

// moved takes all that is not questions or findings to another place.
func (k *desk) moved(m geometry.Affine) {
	for i := range k.strokes {
		k.budget.Spend(len(k.strokes[i].Path.Segments))
		k.strokes[i].Path = k.strokes[i].Path.Transform(m)
	}
	for i := range k.aside {
		k.budget.Spend(len(k.aside[i].Path.Segments))
		k.aside[i].Path = k.aside[i].Path.Transform(m)
	}
}
