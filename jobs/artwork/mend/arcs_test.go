package mend_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
)

// polygon is a regular one round the origin, its corners on a circle.
func regular(n int, r, stretch float64) geometry.Path {
	pts := make([]geometry.Point, n)
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = geometry.Pt(stretch*r*cos, r*sin)
	}
	return geometry.Polygon(pts...)
}

func stroke(p geometry.Path) artwork.Stroke {
	return artwork.Stroke{Path: p, Operation: artwork.ThroughCut}
}

// arcsOf counts the arcs of a path and the other segments.
func arcsOf(p geometry.Path) (arcs, lines int) {
	for _, s := range p.Segments {
		if s.Kind == geometry.Arc {
			arcs++
		} else {
			lines++
		}
	}
	return arcs, lines
}

// Runs of chords within 0.005 mm of an arc become arcs; what somebody drew as a
// polygon stays. The distance of a chord of an n-gon from its circle is
// r·(1 − cos(π/n)): 0.00493 mm for 100 corners on a radius of 10 mm.
func TestFacetedCurves(t *testing.T) {
	const circle = "M-10 0A10 10 0 0 1 10 0A10 10 0 0 1 -10 0Z"
	for _, tt := range []struct {
		name        string
		path        geometry.Path
		arcs, lines int
	}{
		{"100-gon of 10 mm", regular(100, 10, 1), 2, 0},
		{"100-gon of 10.2 mm", regular(100, 10.2, 1), 0, 100},
		{"400-gon of 160 mm", regular(400, 160, 1), 2, 0},
		{"400-gon of 165 mm", regular(400, 165, 1), 0, 400},
		{"hexagon", regular(6, 10, 1), 0, 6},
		{"a tiny hexagon", regular(6, 0.03, 1), 0, 6},
		{"octagon", regular(8, 10, 1), 0, 8},
		{"dodecagon", regular(12, 10, 1), 0, 12},
		{"a small dodecagon", regular(12, 0.14, 1), 0, 12},
		{"16-gon of 0.25 mm", regular(16, 0.25, 1), 2, 0},
		{"24-gon of 10 mm", regular(24, 10, 1), 0, 24},
		{"five chords", parsed(t, "M0 0L0.1 0.001L0.2 0.004L0.3 0.009L0.4 0.016L0.5 0.025"), 0, 5},
		{"six chords", parsed(t, "M0 0L0.1 0.001L0.2 0.004L0.3 0.009L0.4 0.016L0.5 0.025L0.6 0.036"), 1, 0},
		{"arcs stay", parsed(t, circle), 2, 0},
		{"a square", parsed(t, "M0 0H10V10H0Z"), 0, 4},
	} {
		t.Run(tt.name, func(t *testing.T) {
			o := mend.Options{Limits: mend.DefaultLimits(), Off: []string{mend.MendTiny}}
			r := mend.Lines(nil, []artwork.Stroke{stroke(tt.path)}, o)
			got := r.Strokes[0].Path
			if a, l := arcsOf(got); a != tt.arcs || l != tt.lines {
				t.Errorf("%d arcs and %d lines, want %d and %d", a, l, tt.arcs, tt.lines)
			}
			if off := apart(got, tt.path); off > 0.0051 {
				t.Errorf("%.5f mm apart", off)
			}
			if again := mend.Lines(nil, r.Strokes, o); len(again.Findings) > 0 || again.Strokes[0].Path.String() != got.String() {
				t.Errorf("mended twice it changes: %v", again.Findings)
			}
			o.Off = append(o.Off, mend.MendFaceted)
			if off := mend.Lines(nil, []artwork.Stroke{stroke(tt.path)}, o); off.Strokes[0].Path.String() != tt.path.String() {
				t.Error("changed although it is switched off")
			}
		})
	}
}

func parsed(t testing.TB, d string) geometry.Path {
	t.Helper()
	all, err := geometry.ParsePathData(d)
	if err != nil || len(all) != 1 {
		t.Fatalf("%q: %v", d, err)
	}
	return all[0]
}

// apart returns the largest distance of any of many points of each path from the
// other, by flattening both far below the bound.
func apart(p, q geometry.Path) float64 {
	return max(from(p, q), from(q, p))
}

func from(p, q geometry.Path) float64 {
	line, worst := q.Flatten(5e-5), 0.0
	for _, a := range dense(p.Flatten(5e-5)) {
		least := math.Inf(1)
		for i := 1; i < len(line); i++ {
			d := line[i].Sub(line[i-1])
			t := math.Max(0, math.Min(1, a.Sub(line[i-1]).Dot(d)/d.Dot(d)))
			least = math.Min(least, a.Dist(line[i-1].Add(d.Mul(t))))
		}
		worst = math.Max(worst, least)
	}
	return worst
}

// dense returns the corners of a line and its middles.
func dense(line []geometry.Point) []geometry.Point {
	var all []geometry.Point
	for i := 1; i < len(line); i++ {
		all = append(all, line[i-1], line[i-1].Lerp(line[i], 0.5))
	}
	return all
}

// A flattened ellipse, whose curvature changes all the way, is drawn by a few
// arcs within the bound, and its length is kept to a thousandth.
func TestFacetedEllipse(t *testing.T) {
	p := regular(600, 10, 2)
	r := mend.Lines(nil, []artwork.Stroke{stroke(p)}, mend.Options{Limits: mend.DefaultLimits()})
	got := r.Strokes[0].Path
	if a, l := arcsOf(got); a < 4 || a > 40 || l > 12 {
		t.Errorf("%d arcs and %d lines", a, l)
	}
	if off := apart(got, p); off > 0.0051 {
		t.Errorf("%.5f mm apart", off)
	}
	if math.Abs(got.Length()/p.Length()-1) > 0.001 {
		t.Errorf("%.4f mm long, drawn %.4f", got.Length(), p.Length())
	}
}

// Corners stay where they are: a slot with faceted ends keeps its sides, and a
// drop its tip.
func TestFacetedCurvesEndAtCorners(t *testing.T) {
	var drop []geometry.Point
	for i := range 76 {
		sin, cos := math.Sincos(2*math.Pi*float64(i)/100 + math.Pi/4)
		drop = append(drop, geometry.Pt(5*cos, 5*sin))
	}
	tip := geometry.Pt(5*math.Sqrt2, 0)
	r := mend.Lines(nil, []artwork.Stroke{stroke(geometry.Polygon(append(drop, tip)...))}, mend.Options{Limits: mend.DefaultLimits()})
	got := r.Strokes[0].Path
	if a, l := arcsOf(got); a != 2 || l != 2 {
		t.Fatalf("%d arcs and %d lines: %s", a, l, got)
	}
	if got.Start != tip && !slices.ContainsFunc(got.Segments, func(s geometry.Segment) bool { return s.End == tip }) {
		t.Errorf("the tip is gone: %s", got)
	}
}

// Two shapes that share chords share the arcs made of them, although one is
// drawn the other way round, begins elsewhere and is not taken for a duplicate;
// and a line that ends on a chord leaves it as it is.
func TestFacetedCurvesStillMatch(t *testing.T) {
	var arc []geometry.Point
	for i := range 61 {
		sin, cos := math.Sincos(math.Pi * float64(i) / 100)
		arc = append(arc, geometry.Pt(8*cos, 8*sin))
	}
	back := slices.Clone(arc)
	slices.Reverse(back)
	left := geometry.Polygon(append(slices.Clone(arc), geometry.Pt(-9, -9))...)
	right := geometry.Polygon(append(append([]geometry.Point{geometry.Pt(20, 20)}, back...), geometry.Pt(20, 0))...)
	score := stroke(right)
	score.Operation = artwork.Score
	strokes := []artwork.Stroke{stroke(left), score}
	r := mend.Lines(nil, strokes, mend.Options{Limits: mend.DefaultLimits()})
	seen := map[string]int{}
	for _, s := range r.Strokes {
		from := s.Path.Start
		for _, q := range s.Path.Segments {
			if q.Kind == geometry.Arc {
				one := geometry.Path{Start: from, Segments: []geometry.Segment{q}}
				key := []string{one.String(), one.Reversed().String()}
				slices.Sort(key)
				seen[strings.Join(key, " ")]++
			}
			from = q.End
		}
	}
	if len(seen) == 0 {
		t.Fatal("no arcs")
	}
	for arc, n := range seen {
		if n != 2 {
			t.Errorf("%s is drawn %d times", arc, n)
		}
	}

	ring := regular(100, 10, 1)
	mid := ring.Segments[0].End.Lerp(ring.Segments[1].End, 0.5)
	ends := stroke(geometry.Polyline(mid, geometry.Pt(30, 3)))
	r = mend.Lines(nil, []artwork.Stroke{stroke(ring), ends}, mend.Options{Limits: mend.DefaultLimits()})
	if a, l := arcsOf(r.Strokes[0].Path); a < 2 || l < 1 {
		t.Errorf("beside a line that ends on it: %d arcs and %d lines", a, l)
	}
	if d := from(geometry.Polyline(mid, mid.Add(geometry.Pt(1e-9, 0))), r.Strokes[0].Path); d > 1e-6 {
		t.Errorf("the line ends %.6f mm beside it", d)
	}
}

// ExampleLines shows what a circle becomes that was exported as chords.
func ExampleLines() {
	r := mend.Lines(nil, []artwork.Stroke{stroke(regular(200, 5, 1))}, mend.Options{Limits: mend.DefaultLimits()})
	fmt.Println(len(r.Strokes[0].Path.Segments), "segments,", r.Findings[0].Mend.Effect)
	// Output: 2 segments, 1 curve is cut as arcs and not as short straight pieces; no line moves more than 0.005 mm.
}

// What turns by no more than the noise of computing goes straight on, to whichever side
// the noise is: a straight run of many steps is no arc of a vast radius, and a vertex in
// the middle of a chord ends no run. Otherwise a drawing that is moved, or read again
// from the file that it was given back as, would be mended to something else.
func TestNoiseTurnsNowhere(t *testing.T) {
	const noise = 1e-7 // mm
	for _, side := range []float64{noise, 0, -noise} {
		var straight []geometry.Point
		for i := range 40 {
			x := float64(i-20) / 20
			straight = append(straight, geometry.Pt(2*x, 50*side*x*x))
		}
		if arcs, lines := arcsOf(mended(t, geometry.Polyline(straight...))); arcs != 0 || lines != 39 {
			t.Errorf("a straight run with noise %g: %d arcs and %d lines", side, arcs, lines)
		}
		var round []geometry.Point
		for i := range 31 {
			sin, cos := math.Sincos(math.Pi * float64(i) / 60)
			p := geometry.Pt(3*cos, 3*sin)
			if i == 15 {
				half := round[i-1].Lerp(p, 0.5)
				round = append(round, half.Add(half.Unit().Mul(side)))
			}
			round = append(round, p)
		}
		if arcs, lines := arcsOf(mended(t, geometry.Polyline(round...))); arcs != 1 || lines != 0 {
			t.Errorf("a quarter with a vertex in the middle of a chord and noise %g: %d arcs and %d lines", side, arcs, lines)
		}
	}
}

// mended is one line as mending leaves it.
func mended(t *testing.T, p geometry.Path) geometry.Path {
	t.Helper()
	strokes := []artwork.Stroke{stroke(p)}
	r := mend.Lines(mend.NewEffort(nil, mend.Segments(strokes)), strokes, mend.Options{Limits: mend.DefaultLimits()})
	if len(r.Strokes) != 1 {
		t.Fatalf("%d lines, one is due", len(r.Strokes))
	}
	return r.Strokes[0].Path
}
