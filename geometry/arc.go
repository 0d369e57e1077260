package geometry

import "math"

// ArcCircle returns the circle that carries the arc segment s starting at
// from: centre, radius, start angle and signed sweep in radians.
//
// With c the chord and b the bulge, r = c(1+b²)/(4|b|) and the centre lies
// (1−b²)/(4b) chords to the left of the chord's middle (DXF reference,
// LWPOLYLINE group 42; derived from b = tan(θ/4)).
func ArcCircle(from Point, s Segment) (centre Point, radius, start, sweep float64) {
	b := s.Bulge
	chord := s.End.Sub(from)
	mid := from.Lerp(s.End, 0.5)
	centre = mid.Add(chord.Perp().Mul((1 - b*b) / (4 * b)))
	radius = chord.Norm() * (1 + b*b) / (4 * math.Abs(b))
	start = math.Atan2(from.Y-centre.Y, from.X-centre.X)
	return centre, radius, start, 4 * math.Atan(b)
}

// CircleArc returns the arc about c of radius r from angle start through the
// signed sweep (radians, anticlockwise positive, at most one turn) as segments
// of at most half a turn, and the point where it begins.
func CircleArc(c Point, r, start, sweep float64) (Point, []Segment) {
	at := func(a float64) Point {
		sin, cos := math.Sincos(a)
		return Point{c.X + r*cos, c.Y + r*sin}
	}
	n := int(math.Ceil(math.Abs(sweep) / (math.Pi * (1 + 1e-12))))
	n = max(n, 1)
	b := math.Tan(sweep / float64(4*n))
	segs := make([]Segment, n)
	for i := range segs {
		segs[i] = ArcTo(b, at(start+sweep*float64(i+1)/float64(n)))
	}
	return at(start), segs
}

// EllipseArc returns the curve centre + u·cos t + v·sin t for t from start
// through sweep, as cubics of at most 22.5° each. A cubic with control
// length 4/3·tan(θ/4) leaves the unit circle by about 2.7·10⁻⁴·(θ/90°)⁶, so
// each strays by less than 7·10⁻⁸ of the longer half axis (0.07 µm on a metre).
func EllipseArc(centre, u, v Point, start, sweep float64) []Segment {
	n := int(math.Ceil(math.Abs(sweep) / (math.Pi / 8) * (1 - 1e-12)))
	n = max(n, 1)
	step := sweep / float64(n)
	k := 4.0 / 3 * math.Tan(step/4)
	at := func(t float64) (p, d Point) {
		sin, cos := math.Sincos(t)
		return centre.Add(u.Mul(cos)).Add(v.Mul(sin)), v.Mul(cos).Sub(u.Mul(sin))
	}
	segs := make([]Segment, n)
	p, d := at(start)
	for i := range segs {
		q, e := at(start + step*float64(i+1))
		segs[i] = CubicTo(p.Add(d.Mul(k)), q.Sub(e.Mul(k)), q)
		p, d = q, e
	}
	return segs
}
