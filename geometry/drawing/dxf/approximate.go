package dxf

import (
	"math"

	"knifedesk/geometry"
)

// fitter traces Bézier pieces as lines and cubics.
type fitter struct {
	t         *tracer
	tolerance float64
	most      int  // segments, after which it gives up
	coarse    bool // a piece was left outside the tolerance
}

func (f *fitter) full() bool { return len(f.t.segs) > f.most }

// addExact traces a piece of degree 1 to 3 with equal weights.
func (f *fitter) addExact(b []weighted) {
	end := b[len(b)-1].point()
	switch len(b) {
	case 2:
		f.t.add(geometry.LineTo(end))
	case 3:
		middle := b[1].point()
		f.t.add(geometry.CubicTo(b[0].point().Lerp(middle, 2.0/3), end.Lerp(middle, 2.0/3), end))
	case 4:
		f.t.add(geometry.CubicTo(b[1].point(), b[2].point(), end))
	}
}

// maxHalvings bounds how often a piece is halved. A cubic gains a factor 16 or
// more each time, so only pieces with a cusp or a hairpin get deep, and of
// those one in each level; weights far apart make turns that sharp.
const maxHalvings = 48

// add traces a piece of any degree and weights within the tolerance.
func (f *fitter) add(b []weighted) {
	if f.straight(b) {
		f.t.add(geometry.LineTo(b[len(b)-1].point()))
		return
	}
	f.halve(b, 0)
}

// straight reports whether the control points lie on the segment between the
// ends, in order, as in straight pieces of a curve of higher degree.
func (f *fitter) straight(b []weighted) bool {
	from, to := b[0].point(), b[len(b)-1].point()
	d := to.Sub(from)
	length := d.Norm()
	if length == 0 {
		return false
	}
	before := 0.0
	for _, w := range b {
		v := w.point().Sub(from)
		along := v.Dot(d) / length
		if math.Abs(v.Cross(d)) > 1e-3*f.tolerance*length || along < before-1e-3*f.tolerance {
			return false
		}
		before = along
	}
	return before <= length*(1+1e-12)
}

func (f *fitter) halve(b []weighted, depth int) {
	f.t.b.Step()
	if f.full() {
		return
	}
	if f.small(b) {
		f.t.add(geometry.LineTo(b[len(b)-1].point()))
		return
	}
	level(b)
	var left, right [maxDegree + 1]weighted
	n := len(b)
	split(b, left[:n], right[:n])
	c := candidate(b, right[0].point())
	switch {
	case even(b) && f.close(b, c):
		f.t.add(c)
		return
	case depth == maxHalvings:
		f.coarse = true
		f.t.add(geometry.LineTo(b[n-1].point())) // within the hull, whatever the speeds
		return
	}
	f.halve(left[:n], depth+1)
	f.halve(right[:n], depth+1)
}

// small reports whether the whole piece lies within half the tolerance of where
// it begins, so that nothing is left to follow.
func (f *fitter) small(b []weighted) bool {
	from := b[0].point()
	for _, w := range b[1:] {
		if w.point().Dist(from) > f.tolerance/2 {
			return false
		}
	}
	return true
}

// level gives the ends of a piece equal weights: weights times rⁱ draw the same
// curve at another pace (Farin, Curves and Surfaces for CAGD, on the standard
// form of rational curves). Otherwise all of a curve whose one end weighs a
// million times the other happens next to one parameter, which halving does not
// reach, and its speed at the light end leads far away from it. Ends that weigh
// nearly the same are left as they are.
func level(b []weighted) {
	const ratio = 16
	n := len(b) - 1
	if b[0].w <= ratio*b[n].w && b[n].w <= ratio*b[0].w {
		return
	}
	r := math.Pow(b[0].w/b[n].w, 1/float64(n))
	f := 1.0
	for i := range b {
		b[i] = weighted{b[i].x * f, b[i].y * f, b[i].w * f}
		f *= r
	}
	b[n].w = b[0].w
}

// split halves a piece (de Casteljau).
func split(b, left, right []weighted) {
	copy(right, b)
	n := len(b)
	for r := range n {
		left[r] = right[0]
		for k := 0; k < n-1-r; k++ {
			right[k] = right[k].lerp(right[k+1], 0.5)
		}
	}
}

// candidate returns the cubic that shares the ends of the piece and its
// directions there, and passes through its middle; for a circular arc that is
// the usual one, off by the sixth power of its angle. Where the directions do
// not allow that, it takes the speeds of the curve (Hermite).
func candidate(b []weighted, middle geometry.Point) geometry.Segment {
	n := len(b) - 1
	from, to := b[0].point(), b[n].point()
	k := float64(n)
	v0 := b[1].point().Sub(from).Mul(k * b[1].w / b[0].w)
	v1 := to.Sub(b[n-1].point()).Mul(k * b[n-1].w / b[n].w)
	hermite := geometry.CubicTo(from.Add(v0.Mul(1.0/3)), to.Sub(v1.Mul(1.0/3)), to)
	t0, t1 := v0.Unit(), v1.Unit()
	turn := t0.Cross(t1)
	if math.Abs(turn) < 1e-3 {
		return hermite
	}
	// 8·middle = 4·from + 4·to + 3·α·t0 − 3·β·t1
	rest := middle.Mul(8).Sub(from.Add(to).Mul(4)).Mul(1.0 / 3)
	alpha, beta := rest.Cross(t1)/turn, rest.Cross(t0)/turn
	chord := from.Dist(to)
	if alpha <= 0 || beta <= 0 || alpha > chord || beta > chord {
		return hermite
	}
	return geometry.CubicTo(from.Add(t0.Mul(alpha)), to.Sub(t1.Mul(beta)), to)
}

// even reports whether the legs of the control polygon turn by less than a
// right angle in all and differ in length by less than a factor 16. Only then
// do a few samples speak for the whole piece: a hairpin passes between them.
func even(b []weighted) bool {
	const ratio = 16
	short, long := math.Inf(1), 0.0
	var first, last geometry.Point
	for i := range b[1:] {
		leg := b[i+1].point().Sub(b[i].point())
		if i == 0 {
			first = leg
		} else if leg.Dot(last) <= 0 || leg.Dot(first) <= 0 {
			return false
		}
		last = leg
		l := leg.Dot(leg)
		short, long = math.Min(short, l), math.Max(long, l)
	}
	return long < ratio*ratio*short
}

// close reports whether the piece lies within half the tolerance of c at the
// samples: distance to the nearest point of c, found by Newton steps from the
// same parameter. Ends and middle of a candidate are exact, so its error is
// greatest near a quarter and three quarters; that of a Hermite cubic in the
// middle. The other samples guard against curves that are neither.
func (f *fitter) close(b []weighted, c geometry.Segment) bool {
	from := b[0].point()
	limit := f.tolerance * f.tolerance / 4
	for _, at := range [5]float64{0.25, 0.75, 0.5, 0.125, 0.875} {
		p := evaluate(b, at)
		s := at
		gap := p.Sub(geometry.CubicAt(from, c, s))
		for step := 0; step < 2 && gap.Dot(gap) > limit; step++ {
			v := geometry.CubicTangent(from, c, s)
			vv := v.Dot(v)
			if vv == 0 {
				return false
			}
			s += gap.Dot(v) / vv
			gap = p.Sub(geometry.CubicAt(from, c, s))
		}
		if gap.Dot(gap) > limit || s < 0 || s > 1 {
			return false
		}
	}
	return true
}

// evaluate returns the point of the piece at t.
func evaluate(b []weighted, t float64) geometry.Point {
	var d [maxDegree + 1]weighted
	copy(d[:], b)
	for n := len(b) - 1; n > 0; n-- {
		for k := range n {
			d[k] = d[k].lerp(d[k+1], t)
		}
	}
	return d[0].point()
}
