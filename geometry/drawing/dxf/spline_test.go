package dxf_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
)

// nurbs is a B-spline curve as the textbook defines it: the sum of the control
// points times their basis functions N(i, p), by the recursion of Cox and de
// Boor (Piegl and Tiller, The NURBS Book, eq. 2.5 and 4.1). The reader does
// not work that way.
type nurbs struct {
	degree  int
	knots   []float64
	points  []geometry.Point
	weights []float64
}

func (c nurbs) basis(i, p int, u float64) float64 {
	k := c.knots
	if p == 0 {
		if k[i] <= u && u < k[i+1] {
			return 1
		}
		return 0
	}
	part := func(num, den float64) float64 {
		if den == 0 {
			return 0
		}
		return num / den
	}
	return part(u-k[i], k[i+p]-k[i])*c.basis(i, p-1, u) + part(k[i+p+1]-u, k[i+p+1]-k[i+1])*c.basis(i+1, p-1, u)
}

func (c nurbs) at(u float64) geometry.Point {
	var sum geometry.Point
	w := 0.0
	for i, p := range c.points {
		n := c.basis(i, c.degree, u) * c.weights[i]
		sum, w = sum.Add(p.Mul(n)), w+n
	}
	return sum.Mul(1 / w)
}

func (c nurbs) groups(rational bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, "SPLINE 8=0 71=%d ", c.degree)
	for _, k := range c.knots {
		fmt.Fprintf(&b, "40=%v ", k)
	}
	for i, p := range c.points {
		fmt.Fprintf(&b, "10=%v 20=%v ", p.X, p.Y)
		if rational {
			fmt.Fprintf(&b, "41=%v ", c.weights[i])
		}
	}
	return b.String()
}

// distance returns how far q is from the path: of 64 parameters of each segment
// each that is nearer than its neighbours, improved by ternary search between
// those. The nearest alone may be on the other leg of a hairpin.
func distance(path geometry.Path, q geometry.Point) float64 {
	best := math.Inf(1)
	from := path.Start
	for _, s := range path.Segments {
		s = asCubic(from, s)
		at := func(t float64) float64 { return geometry.CubicAt(from, s, t).Dist(q) }
		if away(geometry.BoxAround(from, s.C1, s.C2, s.End), q) < best {
			for i := range 65 {
				low, t, high := math.Max(0, float64(i-1)/64), float64(i)/64, math.Min(1, float64(i+1)/64)
				if at(low) >= at(t) && at(high) >= at(t) {
					best = math.Min(best, lowest(at, low, high))
				}
			}
		}
		from = s.End
	}
	return best
}

// away returns how far q is from a box.
func away(b geometry.Box, q geometry.Point) float64 {
	return math.Hypot(math.Max(0, math.Max(b.Min.X-q.X, q.X-b.Max.X)), math.Max(0, math.Max(b.Min.Y-q.Y, q.Y-b.Max.Y)))
}

// lowest returns the least value of a function that falls and then rises.
func lowest(at func(float64) float64, low, high float64) float64 {
	for range 60 {
		if a, b := low+(high-low)/3, high-(high-low)/3; at(a) < at(b) {
			high = b
		} else {
			low = a
		}
	}
	return at(low)
}

func asCubic(from geometry.Point, s geometry.Segment) geometry.Segment {
	if s.Kind == geometry.Line {
		return geometry.CubicTo(from.Lerp(s.End, 1.0/3), from.Lerp(s.End, 2.0/3), s.End)
	}
	return s
}

// drawNurbs draws a curve over knots with repetitions, clamped or not.
func drawNurbs(t *rapid.T, maxDegree int) nurbs {
	c := nurbs{degree: rapid.IntRange(1, maxDegree).Draw(t, "degree")}
	n := c.degree + rapid.IntRange(1, 6).Draw(t, "more points")
	clamped := rapid.Bool().Draw(t, "clamped")
	k := 0.0
	for i := range n + c.degree + 1 {
		inner := i > c.degree && i < n
		if i > 0 && (!clamped || inner || i == n) {
			k += rapid.SampledFrom([]float64{0.5, 1, 2}).Draw(t, "step")
		}
		c.knots = append(c.knots, k)
	}
	coordinate := rapid.Float64Range(-100, 100)
	for i := range n {
		c.points = append(c.points, geometry.Pt(250*float64(i%2)+coordinate.Draw(t, "x"), coordinate.Draw(t, "y")))
		c.weights = append(c.weights, rapid.Float64Range(0.2, 5).Draw(t, "weight"))
	}
	return c
}

// TestWeightsOfAnySize: a curve whose weights are positive never leaves the hull
// of its control points (The NURBS Book, property P4.7), however far the weights
// lie apart, and is followed as closely as any other.
func TestWeightsOfAnySize(t *testing.T) {
	for name, powers := range map[string]*rapid.Generator[float64]{
		"a million to one": rapid.Float64Range(-3, 3),
		"far apart":        rapid.SampledFrom([]float64{-7, 0, 7}),
		"further":          rapid.SampledFrom([]float64{-13, -7, 0, 7, 13}),
	} {
		t.Run(name, func(t *testing.T) {
			property.Check(t, func(t *rapid.T) {
				c := drawNurbs(t, 5)
				c.clamp()
				for i := range c.weights {
					c.weights[i] = math.Pow(10, powers.Draw(t, "power"))
				}
				b := geometry.BoxAround(c.points...)
				tolerance := 1e-7 * math.Hypot(b.Width(), b.Height())
				path := readCurve(t, c.groups(true))
				inHull(t, c.points, path, tolerance)
				for _, u := range c.parameters() {
					if off := distance(path, c.at(u)); off > tolerance {
						t.Fatalf("at %v the curve is %v away from the path of %d segments, tolerance %v", u, off, len(path.Segments), tolerance)
					}
				}
			})
		})
	}
}

// clamp lets the curve begin and end in its first and last points, so that no
// weight can draw all of it into one.
func (c nurbs) clamp() {
	for i := range c.degree {
		c.knots[i] = c.knots[c.degree]
		c.knots[len(c.knots)-1-i] = c.knots[len(c.points)]
	}
}

// parameters lists where a curve is looked at: evenly, and ever nearer to the
// ends of each span, where heavy weights let go.
func (c nurbs) parameters() []float64 {
	var all []float64
	for i := c.degree; i < len(c.points); i++ {
		low, high := c.knots[i], c.knots[i+1]
		for k := range 10 {
			all = append(all, low+(high-low)*float64(k)/10)
		}
		for k := 4; k < 48 && high > low; k += 3 {
			d := math.Ldexp(high-low, -k)
			all = append(all, low+d, high-d)
		}
	}
	return all
}

// inHull fails where a point of the path lies further than tolerance outside the
// hull of the points: beyond all of them, seen in some direction.
func inHull(t *rapid.T, points []geometry.Point, path geometry.Path, tolerance float64) {
	for a := range 36 {
		sin, cos := math.Sincos(float64(a) * math.Pi / 18)
		d, most := geometry.Pt(cos, sin), math.Inf(-1)
		for _, p := range points {
			most = math.Max(most, p.Dot(d))
		}
		from := path.Start
		for _, s := range path.Segments {
			s = asCubic(from, s)
			for k := range 33 {
				if p := geometry.CubicAt(from, s, float64(k)/32); p.Dot(d) > most+tolerance {
					t.Fatalf("%v lies %v outside the hull of the control points", p, p.Dot(d)-most)
				}
			}
			from = s.End
		}
	}
}

// TestExactSplines: without weights and up to degree 3 each span of knots is
// one segment, at every parameter where the definition puts it.
func TestExactSplines(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		c := drawNurbs(t, 3)
		for i := range c.weights {
			c.weights[i] = 1
		}
		path := readCurve(t, c.groups(false))
		from, n := path.Start, 0
		for i := c.degree; i < len(c.points); i++ {
			low, high := c.knots[i], c.knots[i+1]
			if low == high {
				continue
			}
			s := asCubic(from, path.Segments[n])
			for _, at := range []float64{0, 0.2, 0.5, 0.9} {
				got, want := geometry.CubicAt(from, s, at), c.at(low+(high-low)*at)
				if got.Dist(want) > 1e-10 {
					t.Fatalf("segment %d at %v: %v, want %v", n, at, got, want)
				}
			}
			from = s.End
			n++
		}
		if n != len(path.Segments) {
			t.Fatalf("%d segments, want %d", len(path.Segments), n)
		}
	})
}

// TestSplinesWithinTolerance: all others stay within 1e-7 of their size.
func TestSplinesWithinTolerance(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		c := drawNurbs(t, 6)
		path := readCurve(t, c.groups(true))
		b := geometry.BoxAround(c.points...)
		tolerance := 1e-7 * math.Hypot(b.Width(), b.Height())
		first, last := c.knots[c.degree], c.knots[len(c.points)]
		for i := range 41 {
			u := first + (last-first)*math.Min(float64(i)/40, 1-1e-12)
			if off := distance(path, c.at(u)); off > tolerance {
				t.Fatalf("at %v the curve is %v away from the path of %d segments, tolerance %v", u, off, len(path.Segments), tolerance)
			}
		}
	})
}

// readCurve reads a file with one spline, which must be followed closely.
func readCurve(t *rapid.T, spline string) geometry.Path {
	d, err := dxf.Read(t.Context(), strings.NewReader(file("", "", spline)), dxf.Options{})
	if err != nil || len(d.Shapes) != 1 {
		t.Fatalf("%v, %d shapes", err, len(d.Shapes))
	}
	if found(d, drawing.CurveCoarse) != nil {
		t.Fatal("the curve is followed too coarsely")
	}
	return d.Shapes[0].Paths[0]
}

// TestRationalCircle checks the circle as a rational quadratic with weights 1
// and √½ (Piegl and Tiller, example 7.2).
func TestRationalCircle(t *testing.T) {
	h := math.Sqrt(0.5)
	c := nurbs{degree: 2, knots: []float64{0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4}, weights: []float64{1, h, 1, h, 1, h, 1, h, 1}}
	for _, p := range [][2]float64{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}} {
		c.points = append(c.points, geometry.Pt(50*p[0], 50*p[1]))
	}
	d := entities(t, c.groups(true))
	p := d.Shapes[0].Paths[0]
	if !p.Closed || len(p.Segments) > 32 {
		t.Errorf("closed %v with %d segments", p.Closed, len(p.Segments))
	}
	if !near(p.Length(), 2*math.Pi*50, 1e-5) || !near(p.Area(), math.Pi*2500, 1e-3) {
		t.Errorf("length %v, area %v", p.Length(), p.Area())
	}
	for _, q := range p.Flatten(0.01) {
		if !near(q.Norm(), 50, 1e-5) {
			t.Fatalf("%v lies off the circle", q)
		}
	}
}

// TestFitPoints checks the spline through points by its definition: it passes
// through them, its second derivative has no jumps, and is zero at free ends.
func TestFitPoints(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		closed := rapid.Bool().Draw(t, "closed")
		var b strings.Builder
		fmt.Fprintf(&b, "SPLINE 8=0 71=3 70=%d ", map[bool]int{true: 9, false: 8}[closed])
		n := rapid.IntRange(3, 8).Draw(t, "n")
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			r := rapid.Float64Range(10, 20).Draw(t, "r")
			fmt.Fprintf(&b, "11=%v 21=%v ", r*math.Cos(a), r*math.Sin(a))
		}
		d, err := dxf.Read(t.Context(), strings.NewReader(file("", "", b.String())), dxf.Options{})
		if err != nil || len(d.Shapes) != 1 {
			t.Fatalf("%v, %d shapes", err, len(d.Shapes))
		}
		checkSmooth(t, d.Shapes[0].Paths[0], closed)
	})
}

func checkSmooth(t *rapid.T, p geometry.Path, closed bool) {
	if p.Closed != closed {
		t.Fatalf("closed %v", p.Closed)
	}
	var starts, ends []geometry.Point // second derivatives
	from := p.Start
	for _, s := range p.Segments {
		h := from.Dist(s.End)
		starts = append(starts, from.Sub(s.C1.Mul(2)).Add(s.C2).Mul(6/(h*h)))
		ends = append(ends, s.C1.Sub(s.C2.Mul(2)).Add(s.End).Mul(6/(h*h)))
		from = s.End
	}
	for i := 1; i < len(starts); i++ {
		if starts[i].Dist(ends[i-1]) > 1e-9 {
			t.Fatalf("second derivative jumps from %v to %v at point %d", ends[i-1], starts[i], i)
		}
	}
	first, last := starts[0], ends[len(ends)-1]
	if closed && first.Dist(last) > 1e-9 || !closed && (first.Norm() > 1e-9 || last.Norm() > 1e-9) {
		t.Fatalf("second derivatives at the ends %v and %v", first, last)
	}
}
