package toolpath

import (
	"iter"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Pulled is a blade that is pulled along by the axis and cannot slip sideways.
type Pulled struct {
	OffsetMM float64
	Axis     geometry.Point
	Heading  geometry.Point // unit vector from the tip to the axis
}

// Tip returns where the tip is.
func (p *Pulled) Tip() geometry.Point { return p.Axis.Sub(p.Heading.Mul(p.OffsetMM)) }

// To pulls the axis straight to a point. The angle θ between the blade and the
// pull falls as tan(θ/2) = tan(θ₀/2)·e^(−s/d) over the way s (the tractrix of a
// straight line, Huygens).
func (p *Pulled) To(q geometry.Point) {
	way := q.Sub(p.Axis)
	s := way.Norm()
	p.Axis = q
	if s == 0 || p.OffsetMM <= 0 {
		return
	}
	u := way.Mul(1 / s)
	theta := math.Atan2(u.Cross(p.Heading), u.Dot(p.Heading))
	half := math.Tan(theta/2) * math.Exp(-s/p.OffsetMM)
	cos, sin := (1-half*half)/(1+half*half), 2*half/(1+half*half)
	p.Heading = u.Mul(cos).Add(u.Perp().Mul(sin))
}

// Chords by which an arc is pulled: within that of the arc, and turning by no
// more than that in radians. About its tip a blade then strays by 10⁻⁵ of its
// offset in a half turn.
const (
	pullChord = 1e-4
	pullTurn  = math.Pi / 180
)

// Along pulls the axis along a segment and shows where the tip is on the way.
func (p *Pulled) Along(b *budget.Budget, s geometry.Segment, look func(tip geometry.Point)) {
	from := p.Axis
	pts := s.AppendFlat(nil, from, pullChord)
	if s.Kind == geometry.Arc && !s.Straight() {
		if turn := 4 * math.Abs(math.Atan(s.Bulge)); turn > pullTurn*float64(len(pts)) {
			c, r, start, sweep := geometry.ArcCircle(from, s)
			n := math.Ceil(turn / pullTurn)
			pts = pts[:0]
			for i := 1.0; i <= n; i++ {
				sin, cos := math.Sincos(start + sweep*i/n)
				pts = append(pts, c.Add(geometry.Pt(r*cos, r*sin)))
			}
		}
	}
	b.Spend(1 + len(pts)/8)
	for _, q := range pts {
		p.To(q)
		look(p.Tip())
	}
}

// Strays pulls the blades along the moves of a load and returns how far a tip
// leaves the line that it is to cut at most, lead-ins left out, and the move in
// which it does. offset is that of the blade of a pass. A blade that may point
// anywhere is let down square to its lead-in.
func Strays(b *budget.Budget, moves iter.Seq[Move], offset func(pass int) float64) (worst float64, at Move) {
	var p Pulled
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
