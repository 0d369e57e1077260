package knife

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Piece is one piece of the way of the axis. It begins where the one before
// ended.
type Piece struct {
	Axis geometry.Segment
	// Drawn is what the tip cuts meanwhile, from where it was before. Where the
	// blade turns about its tip, it ends where it begins.
	Drawn   geometry.Segment
	Segment int  // of the line
	Round   int  // from 0: how often the line was run before
	Turns   bool // the blade swings about its tip
	Past    bool // overcut
}

// follower follows a line with its tip and tells where its axis runs.
type follower struct {
	b       *budget.Budget
	d       float64
	tip     geometry.Point // where it is
	vertex  geometry.Point // where it belongs, which is at most leastChange off
	heading geometry.Point // unit vector from the tip to the axis
	now     Piece          // segment and round that are followed
	emit    func(Piece)
}

func (f *follower) centre() geometry.Point { return f.tip.Add(f.heading.Mul(f.d)) }

// leastTurn is what swings the axis by under a picometre, in radians.
const leastTurn = 1e-9

// turn swings the axis about the tip to the new heading, the short way.
func (f *follower) turn(to geometry.Point) {
	if to == (geometry.Point{}) {
		return
	}
	angle := math.Atan2(f.heading.Cross(to), f.heading.Dot(to))
	if math.Abs(angle) > leastTurn && f.d > 0 {
		start := math.Atan2(f.heading.Y, f.heading.X)
		_, arcs := geometry.CircleArc(f.tip, f.d, start, angle)
		for _, arc := range arcs {
			f.tell(arc, geometry.LineTo(f.vertex), true)
		}
	}
	f.heading = to
}

// tell hands out a piece of the way of the axis.
func (f *follower) tell(axis, drawn geometry.Segment, turns bool) {
	f.b.Step()
	f.now.Axis, f.now.Drawn, f.now.Turns = axis, drawn, turns
	f.vertex = drawn.End
	f.emit(f.now)
}

// follow runs along one segment of the line; next is the one after it, itself
// where there is none.
func (f *follower) follow(s, next geometry.Segment) {
	f.b.Step()
	switch {
	case f.d <= 0:
		f.tip = s.End
		f.tell(s, s, false)
	case s.Straight() && f.smooth(s, next):
	case s.Kind == geometry.Cubic:
		f.curve(s)
	case s.Kind == geometry.Arc && !s.Straight():
		f.arc(s)
	case s.End != f.tip:
		f.turn(s.End.Sub(f.tip).Unit())
		if f.smooth(s, next) {
			return
		}
		f.tip = s.End
		f.tell(geometry.LineTo(f.centre()), geometry.LineTo(s.End), false)
	}
}

// What a turn about the tip has to change to be made.
const (
	leastChange = 0.005 // mm, of the tip
	mostSmooth  = 0.04  // mm, of the axis: more always changes the tip more
)

// smooth runs along a straight segment without turning about the tip first, where
// the tip stays within leastChange of the segment all the same, and reports whether
// it did. The axis heads for the middle of the turn to come. Since the tip is
// followed where it really goes, small turns add up until one has to be made.
func (f *follower) smooth(s, next geometry.Segment) bool {
	way := s.End.Sub(f.vertex).Unit()
	to := way
	if after := next.End.Sub(s.End).Unit(); after != (geometry.Point{}) && f.small(way, after) {
		to = way.Add(after).Unit()
	}
	if !next.Straight() || !f.small(f.heading, way) || to == way && f.heading.Dot(way) > 0 && math.Abs(f.heading.Cross(way)) <= leastTurn {
		return false
	}
	pulled := Pulled{OffsetMM: f.d, Axis: f.centre(), Heading: f.heading}
	end := s.End.Add(to.Mul(f.d))
	length := pulled.Axis.Dist(end)
	for at, from := f.d/2, pulled.Axis; at < length && at < 6*f.d; at += f.d / 2 {
		f.b.Step()
		pulled.To(from.Lerp(end, at/length))
		if math.Abs(way.Cross(pulled.Tip().Sub(f.vertex))) > leastChange {
			return false
		}
	}
	pulled.To(end)
	if pulled.Tip().Dist(s.End) > leastChange {
		return false
	}
	f.tip, f.heading = pulled.Tip(), pulled.Heading
	f.tell(geometry.LineTo(end), geometry.LineTo(s.End), false)
	return true
}

// small reports whether a turn could be left out.
func (f *follower) small(from, to geometry.Point) bool {
	return f.d*math.Abs(math.Atan2(from.Cross(to), from.Dot(to))) <= mostSmooth
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
	f.tell(geometry.ArcTo(s.Bulge, f.centre()), s, false)
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
	first, last := cubicHeading(from, s, t0), cubicHeading(from, s, t1)
	const straight = 0.9945 // cos 6°
	if first.Dot(last) < straight && depth < 10 {
		mid := (t0 + t1) / 2
		f.b.Step()
		f.step(from, s, t0, mid, depth+1)
		f.step(from, s, mid, t1, depth+1)
		return
	}
	f.turn(first)
	f.tip = geometry.CubicAt(from, s, t1)
	if t1 == 1 {
		f.tip = s.End
	}
	if first.Dot(last) >= straight {
		f.heading = last
	}
	f.tell(geometry.LineTo(f.centre()), geometry.LineTo(f.tip), false)
	f.turn(last)
}
