package picture

import (
	"knifedesk/geometry"
	"knifedesk/jobs/finding"
)

// badge writes a text in a ring, which is flat where the text is long.
func (p *page) badge(at geometry.Point, r, size float64, s style, text string) {
	const high = 11.0
	if r <= 16 {
		p.draw(s, geometry.Circle(at, r))
	} else {
		p.draw(s, geometry.BoxAround(geometry.Pt(at.X-r, at.Y-high), geometry.Pt(at.X+r, at.Y+high)).Path())
	}
	p.writeBold(geometry.Pt(at.X, at.Y+0.36*size), size, middle, ink, text)
}

// tag writes the name of a finding in a square, so that it is no step's number.
func (p *page) tag(at geometry.Point, r, size float64, text string) {
	p.draw(alarmStyle, geometry.BoxAround(at).Grow(r).Path())
	p.writeBold(geometry.Pt(at.X, at.Y+0.36*size), size, middle, ink, text)
}

// leader draws the line from the edge of a mark to its foot, with a dot there.
func (p *page) leader(at geometry.Point, r float64, foot geometry.Point, inkOf string) {
	edge := at.Add(foot.Sub(at).Unit().Mul(r))
	p.cased(style{stroke: inkOf, width: 1.4}, geometry.Polyline(edge, foot))
	p.draw(style{fill: inkOf, stroke: paper, width: 1}, geometry.Circle(foot, 3.2))
	p.spots.takeLine(at, foot)
}

// arrow draws an arrow from a point along a direction, in pixels.
func (p *page) arrow(s style, from, dir geometry.Point, length float64) {
	const head = 10.0
	tip := from.Add(dir.Mul(length))
	back := tip.Sub(dir.Mul(head))
	n := dir.Perp().Mul(head / 2)
	p.cased(s, geometry.Polyline(from, back))
	p.draw(style{fill: s.stroke, stroke: paper, width: 1}, geometry.Polygon(tip, back.Add(n), back.Sub(n)))
}

// mostMarks is at how many of its places a finding is marked, so that the
// drawing stays visible.
const mostMarks = 5

// markFindings puts the name of each finding at its first places. Those beside
// the drawing, or all round it, would be marked across what is written.
func (p *page) markFindings(fs []finding.Finding, name func(i int) string, most int) {
	p.zone = zoneMarks
	for i, f := range fs {
		if i == mostFindings {
			return
		}
		for k, place := range f.Places {
			if k == most {
				break
			}
			if b := p.onPage(place.Box).Grow(5); !place.Nowhere() && p.area.Overlaps(b) && !b.ContainsBox(p.area) {
				p.markPlace(b, name(i))
			}
		}
	}
}

// markPlace draws the box of a place with its name at the first corner that is
// free, or beside it.
func (p *page) markPlace(b geometry.Box, name string) {
	const r = 10.0
	p.draw(placeStyle, b.Path())
	c := b.Corners()
	for _, k := range []int{3, 2, 0, 1} {
		at := c[k].Add(c[k].Sub(b.Centre()).Unit().Mul(r))
		if p.spots.free(at, r) {
			p.tag(at, r, 13, name)
			p.spots.take(at, 1.3*r)
			return
		}
	}
	if at, ok := p.spots.beside(b.Centre(), r, nil); ok {
		p.leader(at, r, b.Centre(), alarm)
		p.tag(at, r, 13, name)
		p.spots.take(at, 1.3*r)
	}
}

// dimensions draws the width below a box (pixels) and the height beside it.
func (p *page) dimensions(b geometry.Box, width, height string) {
	if !b.Min.Finite() || !b.Max.Finite() {
		return
	}
	p.zone = zoneMarks
	lower := geometry.Pt(b.Max.X, b.Max.Y)
	p.dimension(geometry.Pt(b.Min.X, b.Max.Y), lower, geometry.Pt(0, 1), width)
	p.dimension(geometry.Pt(b.Max.X, b.Min.Y), lower, geometry.Pt(1, 0), height)
}

// dimension draws a dimension line between two points, to the side out, with
// its text on it, or past its end where the line is too short for the text.
func (p *page) dimension(a, b, out geometry.Point, text string) {
	const size, head = 15.0, 9.0
	s := style{stroke: ink, width: 1.1}
	w := p.letters.width(text, size, true)*(1+spare) + 8
	off, along := 18.0, w
	if out.X != 0 {
		off, along = w/2+8, size+6 // the text lies across the line
	}
	ea, eb := a.Add(out.Mul(off)), b.Add(out.Mul(off))
	for _, end := range []geometry.Point{a, b} {
		p.line(style{stroke: faint, width: 0.8}, end.Add(out.Mul(3)), end.Add(out.Mul(off+5)))
	}
	mid, dir := ea.Lerp(eb, 0.5), eb.Sub(ea).Unit()
	inward := dir
	if ea.Dist(eb) < along+2*head+6 {
		mid, inward = eb.Add(dir.Mul(along/2+2*head)), dir.Mul(-1)
		p.line(s, ea.Sub(dir.Mul(2*head)), ea)
		p.line(s, eb, eb.Add(dir.Mul(2*head)))
	} else {
		p.line(s, ea, eb)
	}
	p.arrowHead(ea, inward, head)
	p.arrowHead(eb, inward.Mul(-1), head)
	p.draw(style{fill: paper}, geometry.BoxAround(geometry.Pt(mid.X-w/2, mid.Y-10), geometry.Pt(mid.X+w/2, mid.Y+9)).Path())
	p.writeBold(geometry.Pt(mid.X, mid.Y+5), size, middle, ink, text)
}

// arrowHead draws a slim head whose point is at tip and whose body lies along
// dir from it.
func (p *page) arrowHead(tip, dir geometry.Point, length float64) {
	back := tip.Add(dir.Mul(length))
	side := dir.Perp().Mul(length / 3)
	p.draw(style{fill: ink}, geometry.Polygon(tip, back.Add(side), back.Sub(side)))
}
