package picture

import (
	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// tag writes the name of a finding in a square, so that it is no step's number.
func (p *page) tag(at geometry.Point, r, size float64, text string) {
	p.Draw(alarmStyle(), geometry.BoxAround(at).Grow(r).Path())
	p.Label(geometry.Pt(at.X, at.Y+0.36*size), size, text)
}

// mostMarks is at how many of its places a finding is marked, so that the
// drawing stays visible.
const mostMarks = 5

// markFindings puts the name of each finding at its first places. Those beside
// the drawing, or all round it, would be marked across what is written.
func (p *page) markFindings(fs []finding.Finding, name func(i int) string, most int) {
	p.Zone = figure.ZoneMarks
	for i, f := range fs {
		if i == mostFindings {
			return
		}
		for k, place := range f.Places {
			if k == most {
				break
			}
			if b := p.OnPage(place.Box).Grow(5); !place.Nowhere() && p.Area.Overlaps(b) && !b.ContainsBox(p.Area) {
				p.markPlace(b, name(i))
			}
		}
	}
}

// markParts puts the letters of the parts of groups at their first places.
func (p *page) markParts(questions []ask.Question) {
	p.Zone = figure.ZoneMarks
	for _, q := range questions {
		for i, part := range q.Parts {
			for _, place := range part.Places[:min(len(part.Places), 2)] {
				if b := p.OnPage(place.Box).Grow(5); !place.Nowhere() && p.Area.Overlaps(b) {
					p.markPlace(b, letter(i))
				}
			}
		}
	}
}

// markPlace draws the box of a place with its name at the first corner that is
// free, or beside it.
func (p *page) markPlace(b geometry.Box, name string) {
	const r = 10.0
	p.Draw(placeStyle(), b.Path())
	c := b.Corners()
	for _, k := range []int{3, 2, 0, 1} {
		at := c[k].Add(c[k].Sub(b.Centre()).Unit().Mul(r))
		if p.Spots.Free(at, r) {
			p.tag(at, r, 13, name)
			p.Spots.Take(at, 1.3*r)
			return
		}
	}
	if at, ok := p.Spots.Beside(b.Centre(), r, nil); ok {
		p.Leader(at, r, b.Centre(), alarm)
		p.tag(at, r, 13, name)
		p.Spots.Take(at, 1.3*r)
	}
}
