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
		p.blade.Along(b, m.Axis, func(geometry.Point) {})
	case m.Kind.Down() && offset > 0:
		if !p.known {
			p.blade.Heading, p.known = m.From.Sub(m.Tip).Unit(), true
		}
		p.blade.Along(b, m.Axis, func(tip geometry.Point) {
			if off := offLine(tip, m.Tip, m.Drawn); !(off <= p.WorstMM) {
				p.WorstMM, p.At = off, *m
			}
		})
	}
}

// offLine is how far p lies from the segment s that starts at from.
func offLine(p, from geometry.Point, s geometry.Segment) float64 {
	if s.Kind == geometry.Arc && !s.Straight() {
		c, r, start, sweep := geometry.ArcCircle(from, s)
		turn := math.Atan2(p.Y-c.Y, p.X-c.X) - start
		if sweep < 0 {
			turn = -turn
		}
		if turn = math.Mod(turn+4*math.Pi, 2*math.Pi); turn <= math.Abs(sweep) {
			return math.Abs(p.Dist(c) - r)
		}
		return math.Min(p.Dist(from), p.Dist(s.End))
	}
	d := s.End.Sub(from)
	t := 0.0
	if n := d.Dot(d); n > 0 {
		t = math.Max(0, math.Min(1, p.Sub(from).Dot(d)/n))
	}
	return p.Dist(from.Add(d.Mul(t)))
}
