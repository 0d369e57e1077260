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
	pulled.Along(f.b, axis, func(tip geometry.Point) bool { good = off(tip) <= change; return good })
	if !good || pulled.Tip().Dist(s.End) > change {
		return false
	}
	f.tip, f.heading = pulled.Tip(), pulled.Heading
	f.tell(axis, s, false)
	return true
}

// mostMissed is how far a tip may miss the end of a step of a curve unseen, in mm.
const mostMissed = leastChange / 4

// aim runs along a step of a curve that a blade which heads as the curve does would miss,
// and reports whether there was need of it: where a glide has left the tip beside the curve,
// or where the curve ends as it sets out but not straight on. Headed by as much to the other
// side of the way to the end as it is to head there, the tip comes to the end while it
// turns; where that is not near enough it is pulled there straight.
func (f *follower) aim(s geometry.Segment, way course) bool {
	to := s.End.Sub(f.tip)
	if math.Abs(to.Cross(way.first.Add(way.last).Unit())) <= mostMissed {
		return false
	}
	to = to.Unit()
	heading := to.Mul(2 * to.Dot(way.last)).Sub(way.last)
	axis := geometry.LineTo(s.End.Add(way.last.Mul(f.d)))
	pulled := Pulled{OffsetMM: f.d, Axis: f.tip.Add(heading.Mul(f.d)), Heading: heading}
	f.b.Step()
	if pulled.To(axis.End); to.Dot(way.last) > 0 && pulled.Tip().Dist(s.End) <= leastChange/2 {
		f.turn(heading)
		f.tip, f.heading = pulled.Tip(), pulled.Heading
		f.tell(axis, geometry.LineTo(s.End), false)
		return true
	}
	f.turn(to)
	f.tip = s.End
	f.tell(geometry.LineTo(f.centre()), geometry.LineTo(s.End), false)
	f.turn(way.last)
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
