package knife

import (
	"math"

	"knifedesk/geometry"
)

// circle is that of an arc, as geometry.ArcCircle tells it.
type circle struct {
	centre               geometry.Point
	radius, start, sweep float64
}

func circleOf(from geometry.Point, s geometry.Segment) circle {
	c, r, start, sweep := geometry.ArcCircle(from, s)
	return circle{c, r, start, sweep}
}

// headings returns the directions in which the arc sets out and ends.
func (c *circle) headings() (first, last geometry.Point) {
	quarter := math.Copysign(math.Pi/2, c.sweep)
	unit := func(a float64) geometry.Point { sin, cos := math.Sincos(a); return geometry.Pt(cos, sin) }
	return unit(c.start + quarter), unit(c.start + c.sweep + quarter)
}

// arcHeadings returns the directions in which an arc sets out and ends.
func arcHeadings(from geometry.Point, s geometry.Segment) (first, last geometry.Point) {
	c := circleOf(from, s)
	return c.headings()
}

// Headings returns the directions in which a segment sets out and ends; zero
// where it goes nowhere.
func Headings(from geometry.Point, s geometry.Segment) (first, last geometry.Point) {
	switch {
	case s.Kind == geometry.Cubic:
		return cubicHeading(from, s, 0), cubicHeading(from, s, 1)
	case s.End == from:
		return geometry.Point{}, geometry.Point{}
	case !s.Straight():
		return arcHeadings(from, s)
	}
	way := s.End.Sub(from).Unit()
	return way, way
}

// cubicHeading is the unit tangent at t; where the curve stands still it is
// taken a little beside.
func cubicHeading(from geometry.Point, s geometry.Segment, t float64) geometry.Point {
	d := geometry.CubicTangent(from, s, t)
	scale := from.Dist(s.C1) + s.C1.Dist(s.C2) + s.C2.Dist(s.End)
	if d.Norm() > 1e-9*scale {
		return d.Unit()
	}
	const beside = 1e-4
	if t < 0.5 {
		return geometry.CubicTangent(from, s, t+beside).Unit()
	}
	return geometry.CubicTangent(from, s, t-beside).Unit()
}

// startHeading returns the direction in which a path sets out.
func startHeading(path geometry.Path) geometry.Point {
	from := path.Start
	for _, s := range path.Segments {
		h, _ := Headings(from, s)
		if h != (geometry.Point{}) {
			return h
		}
	}
	return geometry.Pt(1, 0)
}
