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
	fs = fs[:min(len(fs), mostFindings)]
	for k := range most { // the first place of each before the second of any
		for i, f := range fs {
			if k >= len(f.Places) {
				continue
			}
			if b := p.OnPage(f.Places[k].Box).Grow(5); !f.Places[k].Nowhere() && p.Area.Overlaps(b) && !b.ContainsBox(p.Area) {
				p.markPlace(b, name(i), tagReach(k))
			}
		}
	}
}

// anywhere is farther than two places of a page are apart, in pixels.
const anywhere = 2000

// tagReach is how far from its place a name may stand, in pixels: the first of several
// anywhere, as it must not be missed.
func tagReach(k int) float64 {
	if k == 0 {
		return anywhere
	}
	return 120
}

// markParts puts the letters of the parts of groups at their first places.
func (p *page) markParts(questions []ask.Question) {
	p.Zone = figure.ZoneMarks
	for _, q := range questions {
		for i, part := range q.Parts {
			for k, place := range part.Places[:min(len(part.Places), 2)] {
				if b := p.OnPage(place.Box).Grow(5); !place.Nowhere() && p.Area.Overlaps(b) {
					p.markPlace(b, letter(i), tagReach(k))
				}
			}
		}
	}
}

// markPlace draws the box of a place with its name at the first corner that is free and
// off the lines of the work, or beside it, at most so many pixels away.
func (p *page) markPlace(b geometry.Box, name string, reach float64) {
	const r = 10.0
	if p.framed.Empty() || !b.Grow(2).ContainsBox(p.framed) || !p.framed.Grow(12).ContainsBox(b) {
		p.Draw(placeStyle(), b.Path())
	}
	corners := b.Corners()
	for _, k := range []int{3, 2, 0, 1} {
		at := corners[k].Add(corners[k].Sub(b.Centre()).Unit().Mul(r))
		if p.Spots.Free(at, r) && !p.Spots.OnLine(at, r) {
			placeTag(p, at, r, name)
			return
		}
	}
	if at, ok := p.Spots.Beside(b.Centre(), r, reach, nil); ok {
		p.Leader(at, r, b.Centre(), alarm)
		placeTag(p, at, r, name)
	}
}

// placeTag draws a tag and keeps others off it.
func placeTag(p *page, at geometry.Point, r float64, name string) {
	p.tag(at, r, 13, name)
	p.Spots.Take(at, 1.3*r)
}
