package dxf

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// maxDegree bounds the degree of splines; the work grows with its cube, and
// programs stop at 11 or before.
const maxDegree = 15

// weighted is a point of a rational curve in homogeneous form: (x·w, y·w, w).
type weighted struct{ x, y, w float64 }

// lerp returns the point t of the way from p to q, p and q themselves exactly
// at 0 and 1.
func (p weighted) lerp(q weighted, t float64) weighted {
	u := 1 - t
	return weighted{p.x*u + q.x*t, p.y*u + q.y*t, p.w*u + q.w*t}
}

func (p weighted) point() geometry.Point { return geometry.Point{X: p.x / p.w, Y: p.y / p.w} }

// traceSpline traces a SPLINE over its valid range of knots, or through its
// fit points where it has no control points.
func traceSpline(t *tracer, e *entity, m *placement, most int) drawing.Code {
	if len(e.vertices) == 0 && len(e.fits) > 0 {
		return traceFit(t, e, m)
	}
	degree := e.whole[1]
	if !e.has(seenWhole + 1) {
		degree = len(e.knots) - len(e.vertices) - 1
	}
	n := len(e.vertices)
	if degree < 1 || degree > maxDegree || n <= degree || len(e.knots) != n+degree+1 || !ascending(e.knots) {
		return drawing.SplineBroken
	}
	rational := len(e.weights) > 0
	if rational && (len(e.weights) != n || slices.Min(e.weights) <= 0 || slices.Max(e.weights) > weightsApart*slices.Min(e.weights)) {
		return drawing.SplineBroken
	}
	rational = rational && slices.Min(e.weights) != slices.Max(e.weights)
	c := bspline{degree: degree, knots: e.knots, points: make([]weighted, n)}
	b := geometry.EmptyBox()
	for i := range c.points {
		p := m.flat(e.vertices[i].at)
		b = b.Include(p)
		c.points[i] = weighted{p.X, p.Y, 1}
		if rational {
			w := e.weights[i]
			c.points[i] = weighted{p.X * w, p.Y * w, w}
		}
	}
	f := fitter{t: t, tolerance: splineTolerance * math.Hypot(b.Width(), b.Height()), most: most}
	c.trace(&f, rational || degree > 3)
	t.coarse = f.coarse
	t.snap()
	if len(t.segs) == 0 {
		return drawing.ZeroLength
	}
	t.finish(false)
	return ""
}

// splineTolerance is how far cubics may stray from a curve they cannot follow
// exactly, as a part of its size.
const splineTolerance = 1e-7

// weightsApart is the ratio of weights beyond which their products leave the range
// of numbers.
const weightsApart = 1e150

// ascending reports whether knots never fall. Falls of a rounding error are
// levelled, since exporters write −1e-17 for 0.
func ascending(knots []float64) bool {
	slack := 1e-9 * math.Abs(knots[len(knots)-1]-knots[0])
	for i := 1; i < len(knots); i++ {
		if knots[i] < knots[i-1] {
			if knots[i-1]-knots[i] > slack {
				return false
			}
			knots[i] = knots[i-1]
		}
	}
	return knots[len(knots)-1] > knots[0]
}

// bspline is a B-spline curve, rational or not.
type bspline struct {
	degree int
	knots  []float64
	points []weighted
}

// trace hands the curve to f piece by piece, from knot degree to knot
// len(points).
func (c *bspline) trace(f *fitter, approximate bool) {
	var piece, work [maxDegree + 1]weighted
	p := c.degree
	first := true
	for i := p; i < len(c.points); i++ {
		f.t.b.Step()
		if c.knots[i] >= c.knots[i+1] {
			continue
		}
		b := piece[:p+1]
		for j := range b {
			b[j] = c.blossom(work[:p+1], i, j)
		}
		if first {
			f.t.move(b[0].point())
			first = false
		}
		if approximate {
			f.add(b)
		} else {
			f.addExact(b)
		}
		if f.full() {
			return
		}
	}
}

// blossom returns control point j of the Bézier form of the span between
// knots i and i+1: the polar form of the curve at the first knot, degree−j
// times, and the second, j times (Ramshaw 1987).
func (c *bspline) blossom(d []weighted, i, j int) weighted {
	p := c.degree
	copy(d, c.points[i-p:i+1])
	for r := 1; r <= p; r++ {
		u := c.knots[i]
		if r > p-j {
			u = c.knots[i+1]
		}
		for k := p; k >= r; k-- {
			low, high := c.knots[i-p+k], c.knots[i+1+k-r]
			d[k] = d[k-1].lerp(d[k], (u-low)/(high-low))
		}
	}
	return d[p]
}
