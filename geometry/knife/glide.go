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

// settled is how many offsets after a turn that was left out the tip is back on its
// line, but for e⁻⁶ of it.
const settled = 6

// course is the headings in which a piece of the line sets out and ends, and where
// the axis heads at its end.
type course struct{ first, last, to geometry.Point }

// course returns that of a segment before another one: the axis heads for the
// middle of the turn to come where that could be left out.
func (f *follower) course(s, next geometry.Segment) course {
	first, last := headings(f.vertex, s)
	to := last
	if after, _ := headings(s.End, next); after != (geometry.Point{}) && f.small(last, after) {
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
	if !f.pull(&pulled, axis, s, change) || pulled.Tip().Dist(s.End) > change {
		return false
	}
	f.tip, f.heading = pulled.Tip(), pulled.Heading
	f.tell(axis, s, false)
	return true
}

// pull pulls the blade along the axis, and reports whether the tip stays within
// change mm of the segment meanwhile. Once it has settled it is looked at no more.
func (f *follower) pull(p *Pulled, axis, s geometry.Segment, change float64) bool {
	off := f.offLine(s)
	from, length := p.Axis, axis.Length(p.Axis)
	if axis.Kind == geometry.Arc {
		if _, r, _, _ := geometry.ArcCircle(from, axis); r <= f.d {
			return false
		}
	}
	for at := f.d / 2; at < length && at < settled*f.d; at += f.d / 2 {
		f.b.Step()
		first, _ := split(from, axis, at/length)
		on := *p
		if on.Round(first); off(on.Tip()) > change {
			return false
		}
	}
	p.Round(axis)
	return off(p.Tip()) <= change
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
