package mend

import (
	"math"

	"knifedesk/geometry"
)

// piece is one segment together with its start.
type piece struct {
	from geometry.Point
	seg  geometry.Segment
}

// pieces returns the segments of p with their starts.
func pieces(p geometry.Path) []piece {
	return appendPieces(make([]piece, 0, len(p.Segments)), p)
}

func appendPieces(all []piece, p geometry.Path) []piece {
	from := p.Start
	for _, s := range p.Segments {
		all = append(all, piece{from, s})
		from = s.End
	}
	return all
}

func (p *piece) length() float64 { return p.seg.Length(p.from) }

func (p *piece) straight() bool {
	return p.seg.Straight()
}

// box returns a box that holds p: the hull of a cubic, the tight box else.
func (p *piece) box() geometry.Box {
	switch {
	case p.straight():
		return geometry.BoxAround(p.from, p.seg.End)
	case p.seg.Kind == geometry.Cubic:
		return geometry.BoxAround(p.from, p.seg.C1, p.seg.C2, p.seg.End)
	}
	return geometry.Path{Start: p.from, Segments: []geometry.Segment{p.seg}}.Bounds()
}

// at returns the point at parameter t: the share of the length of a line, of
// the sweep of an arc, the Bézier parameter of a cubic.
func (p *piece) at(t float64) geometry.Point {
	switch {
	case t <= 0:
		return p.from
	case t >= 1:
		return p.seg.End
	case p.straight():
		return p.from.Lerp(p.seg.End, t)
	case p.seg.Kind == geometry.Cubic:
		return geometry.CubicAt(p.from, p.seg, t)
	}
	c, r, start, sweep := geometry.ArcCircle(p.from, p.seg)
	sin, cos := math.Sincos(start + sweep*t)
	return geometry.Pt(c.X+r*cos, c.Y+r*sin)
}

// tangent returns the unit vector along p at t.
func (p *piece) tangent(t float64) geometry.Point {
	switch {
	case p.straight():
		return p.seg.End.Sub(p.from).Unit()
	case p.seg.Kind == geometry.Arc:
		c, _, _, sweep := geometry.ArcCircle(p.from, p.seg)
		return p.at(t).Sub(c).Perp().Mul(math.Copysign(1, sweep)).Unit()
	}
	if v := geometry.CubicTangent(p.from, p.seg, t); v.Norm() > 0 {
		return v.Unit()
	}
	// A control point lies on its end: look a little way along.
	const step = 1e-4
	return p.at(math.Min(1, t+step)).Sub(p.at(math.Max(0, t-step))).Unit()
}

// part returns the stretch of p from t0 to t1. The whole is p itself.
func (p *piece) part(t0, t1 float64) piece {
	if t0 <= 0 && t1 >= 1 {
		return *p
	}
	a, b := p.at(t0), p.at(t1)
	switch {
	case p.straight():
		return piece{a, geometry.LineTo(b)}
	case p.seg.Kind == geometry.Arc:
		sweep := 4 * math.Atan(p.seg.Bulge)
		return piece{a, geometry.ArcTo(math.Tan(sweep*(t1-t0)/4), b)}
	}
	// A cubic's part keeps the tangents at its ends, scaled to the share.
	k := (t1 - t0) / 3
	d0, d1 := geometry.CubicTangent(p.from, p.seg, t0), geometry.CubicTangent(p.from, p.seg, t1)
	return piece{a, geometry.CubicTo(a.Add(d0.Mul(k)), b.Sub(d1.Mul(k)), b)}
}

// foot returns the parameter of the point of p nearest to q and its distance.
// ok is false where q lies past an end of p, so that nothing of p is beside it.
func (p *piece) foot(q geometry.Point) (t, dist float64, ok bool) {
	switch {
	case q == p.from:
		return 0, 0, true
	case q == p.seg.End:
		return 1, 0, true
	case p.straight():
		return p.footOnLine(q)
	case p.seg.Kind == geometry.Arc:
		return p.footOnArc(q)
	}
	return p.footOnCubic(q)
}

// footWithin is foot, but that it need not look for a foot that is farther
// than reach from a curve.
func (p *piece) footWithin(q geometry.Point, reach float64) (t, dist float64, ok bool) {
	if !p.straight() && !p.box().Grow(reach).Contains(q) {
		return 0, 0, false
	}
	return p.foot(q)
}

func (p *piece) footOnLine(q geometry.Point) (t, dist float64, ok bool) {
	d := p.seg.End.Sub(p.from)
	l := d.Norm()
	if l == 0 {
		return 0, p.from.Dist(q), false
	}
	along := q.Sub(p.from).Dot(d) / l
	if along < -touchMM || along > l+touchMM {
		end := p.at(math.Round(along / math.Max(l, math.Abs(along))))
		return clamp01(along / l), end.Dist(q), false
	}
	t = clamp01(along / l)
	return t, p.at(t).Dist(q), true
}

func (p *piece) footOnArc(q geometry.Point) (t, dist float64, ok bool) {
	c, r, start, sweep := geometry.ArcCircle(p.from, p.seg)
	turn := math.Atan2(q.Y-c.Y, q.X-c.X) - start
	if sweep < 0 {
		turn = -turn
	}
	turn = math.Mod(turn+4*math.Pi, 2*math.Pi)
	whole, slack := math.Abs(sweep), touchMM/r
	switch {
	case turn <= whole:
		t = turn / whole
		return t, math.Abs(q.Dist(c) - r), true
	case turn-whole <= slack:
		return 1, p.seg.End.Dist(q), true
	case 2*math.Pi-turn <= slack:
		return 0, p.from.Dist(q), true
	case p.from.Dist(q) < p.seg.End.Dist(q):
		return 0, p.from.Dist(q), false
	}
	return 1, p.seg.End.Dist(q), false
}

// footOnCubic samples the curve and then narrows the best stretch by the golden
// section, to about 10⁻⁹ of the parameter.
func (p *piece) footOnCubic(q geometry.Point) (t, dist float64, ok bool) {
	const samples = 16
	off := func(t float64) float64 {
		d := geometry.CubicAt(p.from, p.seg, t).Sub(q)
		return d.Dot(d)
	}
	best, at := math.Inf(1), 0
	for i := 0; i <= samples; i++ {
		if d := off(float64(i) / samples); d < best {
			best, at = d, i
		}
	}
	lo, hi := clamp01(float64(at-1)/samples), clamp01(float64(at+1)/samples)
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := off(a), off(b)
	for range 38 {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = off(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = off(b)
		}
	}
	t = (lo + hi) / 2
	switch { // the search comes near an end without reaching it
	case t < 1e-6:
		t = 0
	case t > 1-1e-6:
		t = 1
	}
	d := q.Sub(p.at(t))
	past := t == 0 && d.Dot(p.tangent(0)) < -touchMM || t == 1 && d.Dot(p.tangent(1)) > touchMM
	return t, d.Norm(), !past
}

func clamp01(t float64) float64 { return math.Max(0, math.Min(1, t)) }
