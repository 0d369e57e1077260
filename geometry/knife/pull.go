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

// Round pulls the axis along a line, or an arc of a radius above the offset. With κ
// what an arc bends to the left, λ² = 1/d² − κ², w = tan(θ/2) and w₁ = −κ/(1/d + λ)
// where the blade settles, (w − w₁)/(1 − w·w₁) falls as e^(−λs): the law of To, which
// is that of κ = 0, solved with the tangent turning on.
func (p *Pulled) Round(s geometry.Segment) {
	if s.Straight() {
		p.To(s.End)
		return
	}
	first, last := arcHeadings(p.Axis, s)
	_, r, _, sweep := geometry.ArcCircle(p.Axis, s)
	bend := math.Copysign(1/r, sweep)
	lambda := math.Sqrt(math.Max(0, 1/(p.OffsetMM*p.OffsetMM)-bend*bend))
	rest := -bend / (1/p.OffsetMM + lambda)
	w := math.Tan(math.Atan2(first.Cross(p.Heading), first.Dot(p.Heading)) / 2)
	off := (w - rest) / (1 - w*rest) * math.Exp(-lambda*r*math.Abs(sweep))
	w = (off + rest) / (1 + off*rest)
	cos, sin := (1-w*w)/(1+w*w), 2*w/(1+w*w)
	p.Axis, p.Heading = s.End, last.Mul(cos).Add(last.Perp().Mul(sin))
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
