package lesson

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
)

// lensBelow is how small the first place may be on the whole drawing before it is shown a
// second time, enlarged, in pixels.
const lensBelow = 16.0

// enlargeBoth shows the first place of the wrong drawing once more in both, where there
// are lines and where it tells them apart.
func enlargeBoth(both [2]*picturing) {
	wrong := both[0]
	if wrong == nil {
		return
	}
	part := wrong.window()
	if part.Empty() || !wrong.drawnIn(part) {
		return
	}
	if right := both[1]; right != nil && slices.Equal(wrong.pointsIn(part), right.pointsIn(part)) {
		return
	}
	for _, p := range both {
		if p != nil && p.drawnIn(part) {
			p.enlarge(part)
		}
	}
}

// enlarge shows a part of the drawing once more, with the points of its lines.
func (p *picturing) enlarge(part geometry.Box) {
	p.Caption("The same place, enlarged. A ring ends a line.")
	p.Open(part, figure.Inset{Tight: true})
	p.Within(p.Area, func() {
		p.content(false)
		m := p.onto.Then(p.View)
		var ends []geometry.Point
		for _, at := range p.pointsIn(part) {
			p.dot(m.Apply(at.Point), at.end, &ends)
		}
	})
	p.Draw(figure.Style{Stroke: figure.Faint, Width: 1}, p.Area.Path())
	p.ScaleBar()
}

// dot draws a point of a line, an end as a ring: two that lie on each other as two rings,
// of which one holds the other.
func (p *picturing) dot(at geometry.Point, end bool, ends *[]geometry.Point) {
	if !end {
		p.Draw(figure.Style{Fill: figure.Ink}, geometry.Circle(at, 3))
		return
	}
	r := 4.0
	for _, e := range *ends {
		if e.Dist(at) < 1 {
			r += 4
		}
	}
	*ends = append(*ends, at)
	style := figure.Style{Stroke: figure.Ink, Width: 1.5}
	if r == 4 {
		style.Fill = figure.Paper
	}
	p.Draw(style, geometry.Circle(at, r))
}

// linePoint is a point between two pieces of a line, or an end of it, in drawing units.
type linePoint struct {
	geometry.Point
	end bool
}

// pointsIn lists the points of the lines in a part of the drawing (mm).
func (p *picturing) pointsIn(part geometry.Box) []linePoint {
	var in []linePoint
	add := func(at geometry.Point, end bool) {
		if q := p.onto.Apply(at); q.Finite() && part.Contains(q) {
			in = append(in, linePoint{at, end})
		}
	}
	for i := range p.shapes {
		for _, q := range p.shapes[i].Paths {
			add(q.Start, !q.Closed)
			for k, s := range q.Segments {
				p.b.Step()
				if last := k == len(q.Segments)-1; !last || !q.Closed {
					add(s.End, last)
				}
			}
		}
	}
	return in
}

// drawnIn reports whether a line comes near a part of the drawing.
func (p *picturing) drawnIn(part geometry.Box) bool {
	for i := range p.shapes {
		for _, q := range p.shapes[i].Paths {
			for _, c := range q.Transform(p.onto).FlattenIn(p.b, 0.05) {
				if part.Contains(c) {
					return true
				}
			}
		}
	}
	return false
}

// window returns what is enlarged: what lies round the first place, empty where that is
// large enough on the whole drawing.
func (p *picturing) window() geometry.Box {
	if len(p.places) == 0 {
		return geometry.EmptyBox()
	}
	place := p.places[0]
	side := longest(place)
	if side*p.Scale > lensBelow {
		return geometry.EmptyBox()
	}
	around := math.Max(5*side, longest(p.all)/14)
	if side > 0 && side < around/30 {
		around = 8 * side
	}
	return geometry.BoxAround(place.Centre()).Grow(around / 2)
}
