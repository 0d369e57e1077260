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
	Lifted  bool // it is lifted, turned over the corner and let down
	Past    bool // overcut
}

// follower follows a line with its tip and tells where its axis runs.
type follower struct {
	b       *budget.Budget
	d       float64
	lift    float64        // radians by which the line has to turn for a lift
	last    geometry.Point // the heading in which the segment before ended; zero: none did
	tip     geometry.Point // where it is
	vertex  geometry.Point // where it belongs, which is at most leastChange off
	heading geometry.Point // unit vector from the tip to the axis
	now     Piece          // segment and round that are followed
	emit    func(Piece)
}

func (f *follower) centre() geometry.Point { return f.tip.Add(f.heading.Mul(f.d)) }

// leastTurn is what swings the axis by under a nanometre, in radians.
const leastTurn = 1e-6

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

// follow runs along one segment of the line; next is the one after it, one that
// goes nowhere where there is none. An arc keeps the axis on a circle about the
// same centre: its distance from it is √(r²+d²) throughout.
func (f *follower) follow(s, next geometry.Segment) {
	f.b.Step()
	if f.d <= 0 {
		f.tip = s.End
		f.tell(s, s, false)
		return
	}
	if s.Kind == geometry.Cubic {
		f.curve(s)
		return
	}
	way := f.course(s, next)
	if f.glide(s, way, leastChange) || s.End == f.tip {
		return
	}
	if !s.Straight() {
		first, last := Headings(f.tip, s)
		f.turn(first)
		f.tip, f.heading = s.End, last
		f.tell(geometry.ArcTo(s.Bulge, f.centre()), s, false)
		return
	}
	f.turn(s.End.Sub(f.tip).Unit())
	if !f.glide(s, way, leastChange) {
		f.tip = s.End
		f.tell(geometry.LineTo(f.centre()), geometry.LineTo(s.End), false)
	}
}

// curve follows a Bézier curve in steps over which the tangent turns little.
func (f *follower) curve(s geometry.Segment) {
	from := f.vertex
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
	end := geometry.CubicAt(from, s, t1)
	if t1 == 1 {
		end = s.End
	}
	arc := geometry.ArcTo(math.Tan(math.Atan2(first.Cross(last), first.Dot(last))/4), end) // the curve, but for far less than the chord
	if first.Dot(last) >= straight && (f.glide(arc, course{first, last, last}, leastChange/2) || f.aim(arc, course{first, last, last})) {
		return
	}
	f.turn(first)
	f.tip = end
	if first.Dot(last) >= straight {
		f.heading = last
	}
	f.tell(geometry.LineTo(f.centre()), geometry.LineTo(f.tip), false)
	f.turn(last)
}
