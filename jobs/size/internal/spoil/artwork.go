package spoil

import (
	"math"

	"knifedesk/geometry"
)

// artwork draws one to ten figures on the page in mm: rectangles, circles,
// polylines and curves, some of them hanging over its edge.
func (m *maker) artwork() []geometry.Path {
	var out []geometry.Path
	short := math.Min(m.page.w, m.page.h)
	for n := 1 + m.rng.IntN(10); n > 0; n-- {
		r := m.between(0.05, 0.3) * short
		c := geometry.Pt(m.between(r+4, m.page.w-r-4), m.between(r+4, m.page.h-r-4))
		out = append(out, m.figure(c, r))
	}
	if m.chance(0.15) && m.c.Truth.Framed {
		m.note("overhang")
		r := m.between(0.05, 0.15) * short
		out = append(out, m.figure(geometry.Pt(m.page.w-r+m.between(0.5, r-0.5), m.between(r, m.page.h-r)), r))
	}
	if m.chance(0.2) {
		m.note("duplicated lines")
		out = append(out, out[m.rng.IntN(len(out))])
	}
	return out
}

// figure draws one figure about c that reaches at most r.
func (m *maker) figure(c geometry.Point, r float64) geometry.Path {
	at := func(radius, angle float64) geometry.Point {
		sin, cos := math.Sincos(angle)
		return geometry.Pt(c.X+radius*cos, c.Y+radius*sin)
	}
	switch m.rng.IntN(5) {
	case 0:
		w, h := m.between(0.2, 0.7)*r, m.between(0.2, 0.7)*r
		return geometry.BoxAround(geometry.Pt(c.X-w, c.Y-h), geometry.Pt(c.X+w, c.Y+h)).Path()
	case 1:
		return geometry.Circle(c, r)
	case 2:
		var pts []geometry.Point
		for i, n := 0, 3+m.rng.IntN(8); i < n; i++ {
			pts = append(pts, at(m.between(0.3, 1)*r, 2*math.Pi*float64(i)/float64(n)))
		}
		if m.chance(0.5) {
			return geometry.Polygon(pts...)
		}
		return geometry.Polyline(pts...)
	case 3:
		return geometry.Path{Start: at(r, math.Pi), Segments: []geometry.Segment{
			geometry.CubicTo(at(0.9*r, 2), at(0.9*r, 1), at(r, 0)),
			geometry.CubicTo(at(0.5*r, -1), at(0.5*r, -2), at(r, math.Pi)),
		}, Closed: true}
	}
	return geometry.Path{Start: at(r, 2.5), Segments: []geometry.Segment{
		geometry.ArcTo(m.between(-0.9, 0.9), at(r, 0.3)), geometry.LineTo(at(0.6*r, -1)),
	}}
}
