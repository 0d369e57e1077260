package toolpath

import (
	"iter"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
)

// Strays pulls the blades along the moves of a load and returns how far a tip
// leaves the line that it is to cut at most, lead-ins left out, and the move in
// which it does. offset is that of the blade of a pass. A blade that may point
// anywhere is let down square to its lead-in.
func Strays(b *budget.Budget, moves iter.Seq[Move], offset func(pass int) float64) (worst float64, at Move) {
	var p knife.Pulled
	known := false
	for m := range moves {
		switch {
		case m.Kind == Change:
			known = false
		case m.Kind == Lower:
			p.OffsetMM, p.Axis = offset(m.Pass), m.From
		case m.Kind == Lead:
			p.Heading, known = m.To().Sub(m.From).Unit().Perp(), true
			p.Along(b, m.Axis, func(geometry.Point) {})
		case m.Kind.Down() && p.OffsetMM > 0:
			if !known {
				p.Heading, known = m.From.Sub(m.Tip).Unit(), true
			}
			p.Along(b, m.Axis, func(tip geometry.Point) {
				if off := offLine(tip, m.Tip, m.Drawn); !(off <= worst) {
					worst, at = off, m
				}
			})
		}
	}
	return worst, at
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
