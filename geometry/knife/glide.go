package knife

import (
	"math"

	"knifedesk/geometry"
)

// What a turn about the tip has to change to be made.
const (
	leastChange = 0.005 // mm, of the tip
	mostSmooth  = 0.04  // mm, of the axis: more always changes the tip more
)

// course is the headings in which a piece of the line sets out and ends, and where
// the axis heads at its end.
type course struct{ first, last, to geometry.Point }

// course returns that of a segment before another one: the axis heads for the
// middle of the turn to come where that could be left out.
func (f *follower) course(s, next geometry.Segment) course {
	first, last := Headings(f.vertex, s)
	to := last
	if after, _ := Headings(s.End, next); after != (geometry.Point{}) && f.small(last, after) {
		to = last.Add(after).Unit()
	}
	return course{first, last, to}
}

// small reports whether a turn could be left out.
func (f *follower) small(from, to geometry.Point) bool {
	return f.d*math.Abs(math.Atan2(from.Cross(to), from.Dot(to))) <= mostSmooth
}

// glide runs along a line or an arc from where the blade stands, without turning it
// about the tip first, where the tip stays within change mm of the segment all the
// same, and reports whether it did. Since the tip is followed where it really goes,
// small turns add up until one has to be made.
//
// A turn costs two stops of the axis, however small it is, since the axis runs
// square to the line while the tip stands.
func (f *follower) glide(s geometry.Segment, way course, change float64) bool {
	exact := way.to == way.last && f.heading.Dot(way.first) > 0 && math.Abs(f.heading.Cross(way.first)) <= leastTurn
	if way.first == (geometry.Point{}) || exact || !f.small(f.heading, way.first) {
		return false
	}
	axis := geometry.LineTo(s.End.Add(way.to.Mul(f.d)))
	if s.Kind == geometry.Arc && !s.Straight() {
		axis = geometry.ArcTo(s.Bulge, axis.End)
	}
	pulled := Pulled{OffsetMM: f.d, Axis: f.centre(), Heading: f.heading}
	off, good := f.offLine(s), true
	pulled.Along(f.b, axis, func(tip geometry.Point) { good = good && off(tip) <= change })
	if !good || pulled.Tip().Dist(s.End) > change {
		return false
	}
	f.tip, f.heading = pulled.Tip(), pulled.Heading
	f.tell(axis, s, false)
	return true
}

// offLine returns how far a point lies off a segment that starts at the vertex,
// drawn on at both ends.
func (f *follower) offLine(s geometry.Segment) func(geometry.Point) float64 {
	from := f.vertex
	if s.Kind == geometry.Arc && !s.Straight() {
		c, r, _, _ := geometry.ArcCircle(from, s)
		return func(p geometry.Point) float64 { return math.Abs(p.Dist(c) - r) }
	}
	way := s.End.Sub(from).Unit()
	return func(p geometry.Point) float64 { return math.Abs(way.Cross(p.Sub(from))) }
}
