package geometry_test

import (
	"encoding/json"
	"math"
	"testing"

	"knifedesk/geometry"
)

// must reads SVG path data that holds one path.
func must(t *testing.T, d string) geometry.Path {
	t.Helper()
	ps, err := geometry.ParsePathData(d)
	if err != nil || len(ps) != 1 {
		t.Fatalf("%q: %d paths, %v", d, len(ps), err)
	}
	return ps[0]
}

// Source: check-values rows 33–36, 28–30 (derived by hand from the circle and
// DXF bulge formulas) and 37 (published note on the four-Bézier circle).
func TestLengthAndArea(t *testing.T) {
	k := 0.5522847498 * 100
	four := geometry.Path{Start: geometry.Pt(100, 0), Closed: true, Segments: []geometry.Segment{
		geometry.CubicTo(geometry.Pt(100, k), geometry.Pt(k, 100), geometry.Pt(0, 100)),
		geometry.CubicTo(geometry.Pt(-k, 100), geometry.Pt(-100, k), geometry.Pt(-100, 0)),
		geometry.CubicTo(geometry.Pt(-100, -k), geometry.Pt(-k, -100), geometry.Pt(0, -100)),
		geometry.CubicTo(geometry.Pt(k, -100), geometry.Pt(100, -k), geometry.Pt(100, 0)),
	}}
	ellipse := geometry.Circle(geometry.Pt(3, 4), 1).Transform(geometry.Scale(40, 20))
	tests := []struct {
		name         string
		path         geometry.Path
		length, area float64
		tol          float64
	}{
		{"circle r 50", geometry.Circle(geometry.Pt(7, -3), 50), 314.1593, 7853.9816, 1e-4},
		{"ellipse 40×20 semi-axes", ellipse, 193.7690, 2513.2741, 1e-3},
		{"hexagon side 30", must(t, "M30 0L15 25.980762113533160L-15 25.980762113533160L-30 0L-15 -25.980762113533160L15 -25.980762113533160Z"), 180, 2338.2686, 1e-4},
		{"slot 60, r 20", must(t, "M0 0H60A20 20 0 0 1 60 40H0A20 20 0 0 1 0 0Z"), 245.6637, 3656.6371, 1e-4},
		{"bulge 0.5, c 100", geometry.Path{Segments: []geometry.Segment{geometry.ArcTo(0.5, geometry.Pt(100, 0))}}, 115.9119, math.NaN(), 1e-4},
		{"bulge tan 22.5°, c 100", geometry.Path{Segments: []geometry.Segment{geometry.ArcTo(math.Tan(math.Pi/8), geometry.Pt(100, 0))}}, 111.0721, math.NaN(), 1e-4},
		{"four-Bézier circle r 100", four, 200 * math.Pi * 1.0001403, 31424.723, 6e-4},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.path.Length(); math.Abs(got-tt.length) > math.Max(tt.tol, 5e-8*tt.length) && tt.name != "four-Bézier circle r 100" {
				t.Errorf("length %.6f, want %.6f", got, tt.length)
			}
			if got := tt.path.Length(); math.Abs(got-tt.length) > 1e-4*tt.length {
				t.Errorf("length %.6f, want %.6f", got, tt.length)
			}
			if got := tt.path.Area(); !math.IsNaN(tt.area) && math.Abs(got-tt.area) > tt.tol {
				t.Errorf("area %.6f, want %.6f", got, tt.area)
			}
			r := tt.path.Reversed()
			if math.Abs(r.Length()-tt.path.Length()) > 1e-9 || math.Abs(r.Area()+tt.path.Area()) > 1e-8 {
				t.Errorf("reversed: length %.9f, area %.9f", r.Length(), r.Area())
			}
		})
	}
}

func TestBulgeCircle(t *testing.T) { // check-values rows 28–30
	for _, tt := range []struct{ bulge, radius, sagitta, degrees float64 }{
		{1, 50, 50, 180}, {0.5, 62.5, 25, 106.260}, {math.Tan(math.Pi / 8), 70.7107, 20.7107, 90},
	} {
		s := geometry.ArcTo(tt.bulge, geometry.Pt(100, 0))
		c, r, _, sweep := geometry.ArcCircle(geometry.Pt(0, 0), s)
		if math.Abs(r-tt.radius) > 5e-5 || math.Abs(sweep*180/math.Pi-tt.degrees) > 5e-4 {
			t.Errorf("bulge %g: r %.4f, θ %.3f", tt.bulge, r, sweep*180/math.Pi)
		}
		if sag := r - c.Y; math.Abs(sag-tt.sagitta) > 5e-5 {
			t.Errorf("bulge %g: sagitta %.4f, want %.4f", tt.bulge, sag, tt.sagitta)
		}
	}
}

func TestBoundsAreTight(t *testing.T) {
	for d, want := range map[string]geometry.Box{
		"M0 0A10 10 0 0 0 20 0":           geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(20, 10)), // clockwise with y up: over the top
		"M0 0C0 40 100 40 100 0":          geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(100, 30)),
		"M10 0A10 10 0 1 1 0 -10":         geometry.BoxAround(geometry.Pt(-10, -10), geometry.Pt(10, 10)),
		"M1 2m3 4l5-6.5.5-1e1H2V3h-1v-1z": geometry.BoxAround(geometry.Pt(1, -10.5), geometry.Pt(9.5, 6)),
		"M0 0a5 5 0 01 10 0 5 5 0 0110 0": geometry.BoxAround(geometry.Pt(0, -5), geometry.Pt(20, 0)),
		"M0 0Q 10 20 20 0T 40 0":          geometry.BoxAround(geometry.Pt(0, -10), geometry.Pt(40, 10)),
		"M-300 0A300 120 0 0 1 300 0":     geometry.BoxAround(geometry.Pt(-300, -120), geometry.Pt(300, 0)),
	} {
		got := must(t, d).Bounds()
		if got.Min.Dist(want.Min) > 3e-5 || got.Max.Dist(want.Max) > 3e-5 {
			t.Errorf("%s: %v, want %v", d, got, want)
		}
	}
}

// Source: check-values row 38: chord error of r 50 with 64 chords, and the
// chords needed for 0.05 mm, from r(1−cos(π/n)).
func TestFlattenKeepsTheChord(t *testing.T) {
	c := geometry.Circle(geometry.Pt(0, 0), 50)
	if n := len(c.Flatten(0.05)) - 1; n < 71 || n > 72 { // two half circles of 36
		t.Errorf("%d chords for 0.05 mm, want 71 rounded up to an even number", n)
	}
	if n := len(c.Flatten(0.0602275)) - 1; n != 64 {
		t.Errorf("%d chords for 0.0602275 mm, want 64", n)
	}
	s := must(t, "M0 0C80 120 -30 90 100 10")
	for _, chord := range []float64{1, 0.1, 0.01} {
		pts := s.Flatten(chord)
		worst := 0.0
		for i := 0; i <= 4000; i++ {
			q := geometry.CubicAt(s.Start, s.Segments[0], float64(i)/4000)
			best := math.Inf(1)
			for j := 1; j < len(pts); j++ {
				best = math.Min(best, distToSegment(q, pts[j-1], pts[j]))
			}
			worst = math.Max(worst, best)
		}
		if worst > chord {
			t.Errorf("chord %g: strays %g", chord, worst)
		}
	}
}

func distToSegment(p, a, b geometry.Point) float64 {
	d := b.Sub(a)
	u := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return p.Dist(a.Lerp(b, u))
}

func TestPathTextRoundTrip(t *testing.T) {
	for _, p := range []geometry.Path{
		geometry.Circle(geometry.Pt(1.5, 2.25), 12.7),
		must(t, "M0 0H60A20 20 0 0 1 60 40H0A20 20 0 0 1 0 0Z"),
		must(t, "M1e-7 0C80 120 -30 90 100 10"),
	} {
		b, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var q geometry.Path
		if err := json.Unmarshal(b, &q); err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.Length()-q.Length()) > 1e-10 || math.Abs(p.Area()-q.Area()) > 1e-9 || p.Closed != q.Closed {
			t.Errorf("%s came back as %s", b, q)
		}
	}
}

func TestPathDataStopsAtTheFault(t *testing.T) {
	ps, err := geometry.ParsePathData("M0 0L10 0L10 x 5")
	if len(ps) != 1 || len(ps[0].Segments) != 1 {
		t.Errorf("kept %v", ps)
	}
	if e, ok := err.(*geometry.PathDataError); !ok || e.Offset != 13 {
		t.Errorf("error %v", err)
	}
}

func TestTransformKeepsArcsUnderSimilarMaps(t *testing.T) {
	p := must(t, "M0 0H60A20 20 0 0 1 60 40H0A20 20 0 0 1 0 0Z")
	m := geometry.Rotate(0.7).Then(geometry.Scale(-2, 2)).Then(geometry.Translate(5, 6))
	q := p.Transform(m)
	if q.Segments[1].Kind != geometry.Arc {
		t.Fatal("an arc became something else under a similar map")
	}
	if math.Abs(q.Area()+4*p.Area()) > 1e-9 || math.Abs(q.Length()-2*p.Length()) > 1e-9 {
		t.Errorf("area %g, length %g", q.Area(), q.Length())
	}
	inv, ok := m.Inverse()
	if r := q.Transform(inv); !ok || r.Start.Dist(p.Start) > 1e-12 || r.Segments[1].Bulge != p.Segments[1].Bulge {
		t.Errorf("there and back: %s", r)
	}
}

// An arc that is as good as flat is a line to every measure: its circle's
// centre is too far away to compute with.
func TestNearlyFlatArcsAreLines(t *testing.T) {
	for _, bulge := range []float64{0, 1e-300, 1e-22, -1e-12, 9e-8} {
		for _, end := range []geometry.Point{{X: 0, Y: 100}, {X: 100, Y: 0}, {X: 60, Y: 80}} {
			p := geometry.Path{Segments: []geometry.Segment{geometry.ArcTo(bulge, end)}}
			if got := p.Length(); math.Abs(got-100) > 1e-9 {
				t.Errorf("bulge %g to %v: length %g", bulge, end, got)
			}
			if b := p.Bounds(); b.Max.Dist(end) > 1e-9 || b.Min.Norm() > 1e-9 {
				t.Errorf("bulge %g to %v: bounds %v", bulge, end, b)
			}
			if pts := p.Flatten(0.01); len(pts) != 2 {
				t.Errorf("bulge %g to %v: %d vertices", bulge, end, len(pts))
			}
			q := p.Transform(geometry.Scale(2, 3))
			if q.End().Dist(geometry.Pt(2*end.X, 3*end.Y)) > 1e-9 || !q.Finite() {
				t.Errorf("bulge %g to %v under a stretch: %v", bulge, end, q)
			}
		}
	}
}

// A path has no inside where it is straight and turns nowhere but back.
func TestOnLine(t *testing.T) {
	for data, want := range map[string]bool{
		"M0 0L3 4": true, "M0 0L3 4L-3 -4Z": true, "M5 5L5 9L5 1L5 5Z": true,
		"M0 0L10 0L5 0.0009": true, "M0 0L10 0L5 0.0011": false, "M0 0L9 0L9 9Z": false,
		"M0 0A5 5 0 0 1 10 0": false, "M0 0C1 0 2 0 3 0": false,
	} {
		if got := must(t, data).OnLine(0.001); got != want {
			t.Errorf("%s: %v, want %v", data, got, want)
		}
	}
}
