package meaning

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/size"
)

// putAside remembers lines that are not run, so that who gets the drawing back misses
// none of them; open: they wait for an answer.
func (k *desk) putAside(lines []line, open bool) {
	for i := range lines {
		k.budget.Step()
		at := lines[i].at
		k.aside = append(k.aside, artwork.Span{From: at, To: at + 1, Open: open})
	}
}

// spans joins what follows each other: however many lines there are, a result says
// in few words which of them are aside.
func spans(b *budget.Budget, all []artwork.Span) []artwork.Span {
	slices.SortFunc(all, func(s, t artwork.Span) int {
		b.Step()
		return cmp.Compare(s.From, t.From)
	})
	var joined []artwork.Span
	for _, s := range all {
		if n := len(joined) - 1; n >= 0 && joined[n].To == s.From && joined[n].Open == s.Open {
			joined[n].To = s.To
		} else {
			joined = append(joined, s)
		}
	}
	return joined
}

// ink is the colour that a shape is told by: its line's, for want of one its fill's.
func ink(s *drawing.Shape) *drawing.Colour {
	if s.Stroke == nil {
		return s.Fill
	}
	return s.Stroke
}

// Aside is a line that is no stroke of the artwork, as it was drawn.
type Aside struct {
	Path   geometry.Path // in the artwork's coordinates
	Layer  string
	Colour *drawing.Colour
	Open   bool // it waits for an answer
}

// AsideOf returns the lines that the artwork leaves aside, of the drawing and at the
// size that it was made of. The error is that of Resolve.
func AsideOf(b *budget.Budget, d *drawing.Drawing, s *size.Result, a *artwork.Artwork) ([]Aside, error) {
	if len(a.Aside) == 0 {
		return nil, nil
	}
	if a.Scale != 0 {
		s = scaled(s, a.Scale)
	}
	lines, err := trueLines(b, d, s)
	if err != nil {
		return nil, err
	}
	onto := a.Placed()
	var all []Aside
	for _, span := range a.Aside {
		for i := range lines[min(span.From, len(lines)):min(span.To, len(lines))] {
			l := &lines[span.From+i]
			b.Spend(1 + len(l.path.Segments))
			all = append(all, Aside{l.path.Transform(onto), l.shape.Layer, ink(l.shape), span.Open})
		}
	}
	return all, nil
}
