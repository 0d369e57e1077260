package toolpath

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
)

// Proof pulls the blades along the moves of a load, as they are seen one by one, and
// keeps how far a tip left the line that it is to cut at most, lead-ins left out. A
// blade that may point anywhere is let down square to its lead-in.
type Proof struct {
	WorstMM float64
	At      Move // where it did
	blade   knife.Pulled
	known   bool // how the blade stands
}

// See pulls the blade, which has an offset in mm, along the next move.
func (p *Proof) See(b *budget.Budget, m *Move, offset float64) {
	switch {
	case m.Kind == Change:
		p.known = false
	case m.Kind == Lower:
		p.blade.OffsetMM, p.blade.Axis = offset, m.From
		p.known = p.known && !m.Turned
	case m.Kind == Lead:
		p.blade.Heading, p.known = m.To().Sub(m.From).Unit().Perp(), true
		p.blade.Along(b, m.Axis, func(geometry.Point) bool { return true })
	case m.Kind.Down() && offset > 0:
		if !p.known {
			p.blade.Heading, p.known = m.From.Sub(m.Tip).Unit(), true
		}
		line := lineOf(m.Tip, m.Drawn)
		p.blade.Along(b, m.Axis, func(tip geometry.Point) bool {
			if off := line.off(tip); !(off <= p.WorstMM) {
				p.WorstMM, p.At = off, *m
			}
			return true
		})
	}
}

// drawn is a segment that starts at from, with its circle where it is an arc.
type drawn struct {
	from, to             geometry.Point
	arc                  bool
	centre               geometry.Point
	radius, start, sweep float64
}

func lineOf(from geometry.Point, s geometry.Segment) drawn {
	l := drawn{from: from, to: s.End, arc: s.Kind == geometry.Arc && !s.Straight()}
	if l.arc {
		l.centre, l.radius, l.start, l.sweep = geometry.ArcCircle(from, s)
	}
	return l
}

// off is how far p lies from the segment.
func (l *drawn) off(p geometry.Point) float64 {
	if l.arc {
		turn := math.Atan2(p.Y-l.centre.Y, p.X-l.centre.X) - l.start
		if l.sweep < 0 {
			turn = -turn
		}
		if turn = math.Mod(turn+4*math.Pi, 2*math.Pi); turn <= math.Abs(l.sweep) {
			return math.Abs(p.Dist(l.centre) - l.radius)
		}
		return math.Min(p.Dist(l.from), p.Dist(l.to))
	}
	return p.DistToSegment(l.from, l.to)
}
