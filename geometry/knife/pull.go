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
