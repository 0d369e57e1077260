package knife

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// follower follows a line with its tip and writes down where its axis runs.
type follower struct {
	b       *budget.Budget
	d       float64
	tip     geometry.Point
	heading geometry.Point // unit vector from the tip to the axis
	axis    geometry.Path
}

func (f *follower) centre() geometry.Point { return f.tip.Add(f.heading.Mul(f.d)) }

// turn swings the axis about the tip to the new heading, the short way.
func (f *follower) turn(to geometry.Point) {
	if to == (geometry.Point{}) {
		return
	}
	angle := math.Atan2(f.heading.Cross(to), f.heading.Dot(to))
	if math.Abs(angle) > 1e-9 { // less moves the axis by under a picometre
		start := math.Atan2(f.heading.Y, f.heading.X)
		_, arc := geometry.CircleArc(f.tip, f.d, start, angle)
		f.axis.Segments = append(f.axis.Segments, arc...)
	}
	f.heading = to
}

func (f *follower) follow(s geometry.Segment) {
	f.b.Step()
	switch {
	case s.Kind == geometry.Cubic:
		f.curve(s)
	case s.Kind == geometry.Arc && !s.Straight():
		f.arc(s)
	case s.End != f.tip:
		f.turn(s.End.Sub(f.tip).Unit())
		f.tip = s.End
		f.axis.Segments = append(f.axis.Segments, geometry.LineTo(f.centre()))
	}
}

// arc keeps the axis on a circle about the same centre: its distance from it
// is √(r²+d²) throughout.
func (f *follower) arc(s geometry.Segment) {
	if s.End == f.tip {
		return
	}
	first, last := arcHeadings(f.tip, s)
	f.turn(first)
	f.tip, f.heading = s.End, last
	f.axis.Segments = append(f.axis.Segments, geometry.ArcTo(s.Bulge, f.centre()))
}

// curve follows a Bézier curve in steps over which the tangent turns little.
func (f *follower) curve(s geometry.Segment) {
	from := f.tip
	steps := len(s.AppendFlat(nil, from, geometry.DefaultChord/2))
	for i := range steps {
		f.step(from, s, float64(i)/float64(steps), float64(i+1)/float64(steps), 0)
	}
}

// step goes from parameter t0 to t1, halved until the tangent turns by less
// than six degrees; what still turns after ten halvings is a corner.
func (f *follower) step(from geometry.Point, s geometry.Segment, t0, t1 float64, depth int) {
	f.b.Step()
	first, last := cubicHeading(from, s, t0), cubicHeading(from, s, t1)
	const straight = 0.9945 // cos 6°
	if first.Dot(last) < straight && depth < 10 {
		mid := (t0 + t1) / 2
		f.step(from, s, t0, mid, depth+1)
		f.step(from, s, mid, t1, depth+1)
		return
	}
	f.turn(first)
	f.tip = geometry.CubicAt(from, s, t1)
	if t1 == 1 {
		f.tip = s.End
	}
	if first.Dot(last) < straight {
		f.axis.Segments = append(f.axis.Segments, geometry.LineTo(f.centre()))
		f.turn(last)
		return
	}
	f.heading = last
	f.axis.Segments = append(f.axis.Segments, geometry.LineTo(f.centre()))
}
