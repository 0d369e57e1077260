package knife

import (
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

// Round pulls the axis along a line or an arc. Where the arc bends by κ to the left,
// the angle to the tangent follows θ′ = −κ − sin(θ)/d. With tan(θ/2) = y/z that is
// linear, y′ = −ay − bz and z′ = by + az for a = 1/2d and b = κ/2, and the square of
// its matrix is μ² = a² − b²: hence the hyperbolic functions, or those of the circle
// where the arc is tighter than the blade. A line has κ = 0, which is To.
func (p *Pulled) Round(s geometry.Segment) {
	if s.Straight() || p.OffsetMM <= 0 {
		p.To(s.End)
		return
	}
	circle := circleOf(p.Axis, s)
	p.round(s.End, &circle)
}

// round pulls the axis along the arc of a circle to its end.
func (p *Pulled) round(end geometry.Point, c *circle) {
	first, last := c.headings()
	r, sweep := c.radius, c.sweep
	sin, cos := math.Sincos(math.Atan2(first.Cross(p.Heading), first.Dot(p.Heading)) / 2)
	a, b := 1/(2*p.OffsetMM), math.Copysign(1/(2*r), sweep)
	unit, m := spread(a*a-b*b, r*math.Abs(sweep))
	y, z := unit*sin-m*(a*sin+b*cos), unit*cos+m*(b*sin+a*cos)
	n := y*y + z*z
	p.Axis, p.Heading = end, last.Mul((z*z-y*y)/n).Add(last.Perp().Mul(2*y*z/n))
}

// spread returns the shares of the unit matrix and of M in e^(Ms), where M² is μ²,
// as to their ratio.
func spread(mu2, s float64) (unit, m float64) {
	mu := math.Sqrt(math.Abs(mu2))
	switch {
	case mu*s < 1e-6:
		return 1, s
	case mu2 > 0:
		return 1, math.Tanh(mu*s) / mu
	}
	sin, cos := math.Sincos(mu * s)
	return cos, sin / mu
}

// settled is how many offsets after a turn the tip is back on its line, but for e⁻⁶
// of what it was off.
const settled = 6

// Along pulls the axis along a segment and shows where the tip is on the way: until
// the blade has settled, and at the end, or until look returns false. Between those it
// changes no more. Of an arc along which it rides it shows the middle and the end.
func (p *Pulled) Along(b *budget.Budget, s geometry.Segment, look func(tip geometry.Point) bool) {
	from := p.Axis
	if s.Kind == geometry.Cubic {
		for _, q := range s.AppendFlat(nil, from, pullChord) {
			b.Step()
			if p.To(q); !look(p.Tip()) {
				return
			}
		}
		return
	}
	length := s.Length(from)
	if way := s.End.Sub(from); s.Straight() && p.Heading.Dot(way) > 0 && math.Abs(p.Heading.Cross(way)) <= leastTurn*length {
		length = 0 // it has settled
	}
	step, most := p.OffsetMM/2, min(length, settled*p.OffsetMM)
	var arc circle
	if !s.Straight() {
		if arc = circleOf(from, s); p.rides(&arc) {
			step, most = length/2, length
		}
	}
	for at := step; at > 0 && at < most; at += step {
		b.Step()
		on := *p
		if s.Straight() {
			on.To(from.Lerp(s.End, at/length))
		} else {
			on.Round(arc.part(at / length))
		}
		if !look(on.Tip()) {
			return
		}
	}
	b.Step()
	p.Round(s)
	look(p.Tip())
}

// rides reports whether the tip keeps its distance from the centre of an arc along which
// the axis is pulled: it heads square to the way from there, or it stands there.
func (p *Pulled) rides(c *circle) bool {
	out := p.Tip().Sub(c.centre)
	off := out.Norm()
	return off <= nothing || math.Copysign(1, c.sweep)*out.Cross(p.Heading) > 0 && math.Abs(out.Dot(p.Heading)) <= leastTurn*off
}

// pullChord is how far the chords by which a Bézier curve is pulled may stray, in mm.
const pullChord = 1e-4
