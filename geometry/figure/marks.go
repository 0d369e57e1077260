package figure

import "knifedesk/geometry"

// Badge writes a text in a ring, which is flat where the text is long.
func (p *Pen) Badge(at geometry.Point, r, size float64, s Style, text string) {
	const high = 11.0
	if r <= 16 {
		p.Draw(s, geometry.Circle(at, r))
	} else {
		p.Draw(s, geometry.BoxAround(geometry.Pt(at.X-r, at.Y-high), geometry.Pt(at.X+r, at.Y+high)).Path())
	}
	p.Label(geometry.Pt(at.X, at.Y+0.36*size), size, text)
}

// Leader draws the line from the edge of a mark to its foot, with a dot there.
func (p *Page) Leader(at geometry.Point, r float64, foot geometry.Point, inkOf string) {
	edge := at.Add(foot.Sub(at).Unit().Mul(r))
	p.Cased(Style{Stroke: inkOf, Width: 1.4}, geometry.Polyline(edge, foot))
	p.Draw(Style{Fill: inkOf, Stroke: Paper, Width: 1}, geometry.Circle(foot, 3.2))
	p.Spots.TakeLine(at, foot)
}

// Arrow draws an arrow from a point along a direction, in pixels.
func (p *Pen) Arrow(s Style, from, dir geometry.Point, length float64) {
	const head = 10.0
	tip := from.Add(dir.Mul(length))
	back := tip.Sub(dir.Mul(head))
	n := dir.Perp().Mul(head / 2)
	p.Cased(s, geometry.Polyline(from, back))
	p.Draw(Style{Fill: s.Stroke, Stroke: Paper, Width: 1}, geometry.Polygon(tip, back.Add(n), back.Sub(n)))
}

// Dimensions draws the width of a box (pixels) and its height, below and beside
// another that holds it, so that they cross nothing in that.
func (p *Page) Dimensions(b, outside geometry.Box, width, height string) {
	if !b.Min.Finite() || !b.Max.Finite() {
		return
	}
	p.Zone = ZoneMarks
	y, x := outside.Max.Y, outside.Max.X
	p.dimension(geometry.Pt(b.Min.X, y), geometry.Pt(b.Max.X, y), geometry.Pt(0, 1), width)
	p.dimension(geometry.Pt(x, b.Max.Y), geometry.Pt(x, b.Min.Y), geometry.Pt(1, 0), height) // past its upper end, off the width
}

// dimension draws a dimension line between two points, to the side out, with its text on
// it. Where it is too short for the text that stands below it, or to the right of an
// upright one.
func (p *Page) dimension(a, b, out geometry.Point, text string) {
	const size, head = 15.0, 9.0
	s := Style{Stroke: Ink, Width: 1.1}
	w := p.TextWidth(text, size, true) + 8
	off, along := 18.0, w
	if out.X != 0 {
		along = size + 6 // the text lies across the line
	}
	room := a.Dist(b) >= along+2*head+6
	if out.X != 0 && room {
		off = w/2 + 8
	}
	ea, eb := a.Add(out.Mul(off)), b.Add(out.Mul(off))
	for _, end := range []geometry.Point{a, b} {
		p.Line(Style{Stroke: Faint, Width: 0.8}, end.Add(out.Mul(3)), end.Add(out.Mul(off+5)))
	}
	mid, dir := ea.Lerp(eb, 0.5), eb.Sub(ea).Unit()
	inward := dir
	if ea.Dist(eb) < 2*head+6 {
		inward = dir.Mul(-1)
		p.Line(s, ea.Sub(dir.Mul(2*head)), ea)
		p.Line(s, eb, eb.Add(dir.Mul(2*head)))
	} else {
		p.Line(s, ea, eb)
	}
	p.arrowHead(ea, inward, head)
	p.arrowHead(eb, inward.Mul(-1), head)
	switch {
	case !room && out.X == 0:
		mid = geometry.Pt(max(mid.X, p.format.Margin+w/2), mid.Y+13) // below the line
	case !room:
		mid.X += w/2 + 4
	}
	box := geometry.BoxAround(geometry.Pt(mid.X-w/2, mid.Y-10), geometry.Pt(mid.X+w/2, mid.Y+9))
	p.Draw(Style{Fill: Paper}, box.Path())
	p.Spots.TakeBox(box)
	p.Spots.TakeLine(ea, eb)
	p.Label(geometry.Pt(mid.X, mid.Y+5), size, text)
}

// arrowHead draws a slim head whose point is at tip and whose body lies along
// dir from it.
func (p *Pen) arrowHead(tip, dir geometry.Point, length float64) {
	back := tip.Add(dir.Mul(length))
	side := dir.Perp().Mul(length / 3)
	p.Draw(Style{Fill: Ink}, geometry.Polygon(tip, back.Add(side), back.Sub(side)))
}
