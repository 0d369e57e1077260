package motion

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// leg is one straight line between two corners.
type leg struct {
	from   geometry.Point
	dir    geometry.Point // of length 1
	length float64
}

// joinLegs makes the lines between the points, those that move nothing left out
// and those that go straight on made one.
func (t *Timer) joinLegs(b *budget.Budget) {
	pts, all := t.pts, slices.Grow(t.legs[:0], len(t.pts))
	for i := 1; i < len(pts); i++ {
		b.Step()
		l, ok := newLeg(pts[i-1], pts[i])
		if !ok {
			continue
		}
		if n := len(all) - 1; n >= 0 && l.dir.Sub(all[n].dir).Norm() < straight {
			all[n], _ = newLeg(all[n].from, pts[i])
			continue
		}
		all = append(all, l)
	}
	t.legs = all
}

// newLeg returns the line between two points, unless they are one.
func newLeg(from, to geometry.Point) (leg, bool) {
	d := to.Sub(from)
	length := d.Norm()
	return leg{from, d.Mul(1 / length), length}, length > 0
}

// straight is the turn, in radians, below which two legs are one line.
const straight = 1e-7

// corner is the arc by which one leg goes over into the next: it touches both
// at setback from their common point.
type corner struct{ setback, radius, angle float64 }

// between returns the arc at a corner that turns by φ. One that passes within δ
// of the point has the radius δ·c/(1−c) with c = cos(φ/2), and touches the legs
// at R·tan(φ/2); no more than half of a leg is for one corner.
func between(from, to leg) corner {
	half := math.Atan2(from.dir.Cross(to.dir), from.dir.Dot(to.dir)) / 2
	k := corner{angle: 2 * half}
	if half == 0 {
		return corner{}
	}
	c, tan := math.Cos(half), math.Abs(math.Tan(half))
	k.setback = math.Min(cornerMM*c/(1-c)*tan, math.Min(from.length, to.length)/2)
	k.radius = k.setback / tan
	return k
}

// round makes the pieces of the legs with their corners rounded.
func (t *Timer) round(b *budget.Budget, speed float64) {
	m, all := t.Axes, t.legs
	pieces := slices.Grow(t.pieces[:0], 2*len(all))
	back := 0.0 // what the corner before takes of the leg
	for i, l := range all {
		b.Step()
		k := corner{}
		if i+1 < len(all) {
			k = between(l, all[i+1])
		}
		if length := l.length - back - k.setback; length > 0 {
			axis := widest(l.dir)
			pieces = append(pieces, piece{from: l.from.Add(l.dir.Mul(back)), dir: l.dir, length: length, a: m.AccelMMS2 / axis, top: m.top(speed, axis)})
		}
		if k.angle != 0 {
			pieces = append(pieces, m.arc(l, all[i+1], k, speed))
		}
		back = k.setback
	}
	t.pieces = pieces
}

// arc returns the piece that rounds the corner between two legs. Its speed is
// bounded by v²/R ≤ a along the axis that is most across it anywhere on it, which
// is as far off an axis as its direction is.
func (m Axes) arc(from, to leg, k corner, speed float64) piece {
	axis := math.Max(widest(from.dir), widest(to.dir))
	if from.dir.X*to.dir.X < 0 || from.dir.Y*to.dir.Y < 0 {
		axis = 1
	}
	p := piece{
		from: from.from.Add(from.dir.Mul(from.length - k.setback)), dir: from.dir,
		length: k.radius * math.Abs(k.angle), a: m.AccelMMS2 / axis,
	}
	if k.radius > 0 {
		p.bend = math.Copysign(1/k.radius, k.angle)
	}
	p.top = math.Min(m.top(speed, axis), math.Sqrt(p.a*k.radius))
	return p
}

// top is the speed at which the axis that has most to do is at its limit.
func (m Axes) top(speed, axis float64) float64 {
	if m.SpeedMMS > 0 {
		return math.Min(speed, m.SpeedMMS/axis)
	}
	return speed
}

// widest is the larger component of a direction.
func widest(d geometry.Point) float64 { return math.Max(math.Abs(d.X), math.Abs(d.Y)) }
