package mend_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/finding"
)

// cuts reads path data as through cuts, one stroke a path, one shape a text.
func cuts(t testing.TB, data ...string) []artwork.Stroke {
	t.Helper()
	var all []artwork.Stroke
	for i, d := range data {
		paths, err := geometry.ParsePathData(d)
		if err != nil {
			t.Fatalf("%q: %v", d, err)
		}
		for _, p := range paths {
			all = append(all, artwork.Stroke{Path: p, Operation: artwork.ThroughCut, Shape: i})
		}
	}
	return all
}

func paths(strokes []artwork.Stroke) []string {
	var all []string
	for _, s := range strokes {
		all = append(all, s.Path.String())
	}
	return all
}

// What is saved is the length that two lines share, by hand.
func TestSavedLength(t *testing.T) {
	half := geometry.Path{Segments: []geometry.Segment{geometry.CubicTo(geometry.Pt(0, 4), geometry.Pt(2, 6), geometry.Pt(4, 6))}}.Length()
	tests := []struct {
		name  string
		data  []string
		saved float64
		left  float64 // length of all strokes after it
	}{
		{"square twice", []string{"M0 0H10V10H0Z", "M10 10V0H0V10Z"}, 40, 40},
		{"square three times", []string{"M0 0H10V10H0Z", "M0 0H10V10H0Z", "M0 0H10V10H0Z"}, 80, 40},
		{"tiles share an edge", []string{"M0 0H10V10H0Z", "M10 0H20V10H10Z"}, 10, 70},
		{"nine tiles", []string{
			"M0 0h9v9h-9z", "M9 0h9v9h-9z", "M18 0h9v9h-9z", "M0 9h9v9h-9z", "M9 9h9v9h-9z",
			"M18 9h9v9h-9z", "M0 18h9v9h-9z", "M9 18h9v9h-9z", "M18 18h9v9h-9z"}, 108, 216},
		{"lines overlap by half", []string{"M0 0H10", "M5 0H15"}, 5, 15},
		{"a line there and back", []string{"M0 0H10L0 0"}, 10, 10},
		{"quarter of a circle", []string{"M5 0A5 5 0 0 1 -5 0", "M0 5A5 5 0 0 1 0 -5"}, 2.5 * math.Pi, 7.5 * math.Pi},
		{"circle of half arcs, turned", []string{"M5 0A5 5 0 0 1 -5 0A5 5 0 0 1 5 0Z", "M0 5A5 5 0 0 1 0 -5A5 5 0 0 1 0 5Z"}, 10 * math.Pi, 10 * math.Pi},
		{"a cubic and its first half", []string{"M0 0C0 8 8 8 8 0", "M0 0C0 4 2 6 4 6"}, half, 2 * half},
		{"a line and a cubic on it", []string{"M0 0H12", "M2 0C4 0 6 0 8 0"}, 6, 12},
		{"crossing lines", []string{"M0 0L10 10", "M0 10L10 0"}, 0, 2 * math.Hypot(10, 10)},
		{"a shallow crossing", []string{"M0 0L100 1", "M0 1L100 0"}, 0, 2 * math.Hypot(100, 1)},
		{"a thin tip keeps its sides", []string{"M0 0L30 0.3L30 -0.3Z"}, 0, 2*math.Hypot(30, 0.3) + 0.6},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			strokes := cuts(t, tt.data...)
			r := mend.Lines(nil, strokes, mend.Options{Limits: mend.DefaultLimits()})
			const tol = 1e-5 // a foot on a cubic is searched for
			left := 0.0
			for _, s := range r.Strokes {
				left += s.Path.Length()
			}
			if math.Abs(r.SavedMM-tt.saved) > tol || math.Abs(left-tt.left) > tol {
				t.Errorf("saved %.9f, left %.9f; want %.9f and %.9f: %q", r.SavedMM, left, tt.saved, tt.left, paths(r.Strokes))
			}
		})
	}
}

func TestJoins(t *testing.T) {
	tests := []struct {
		name string
		data []string
		want []string
	}{
		{"ends that touch", []string{"M0 0H5", "M5 0V5"}, []string{"M0 0L5 0L5 5"}},
		{"drawn against each other", []string{"M5 0H0", "M5 5V0"}, []string{"M0 0L5 0L5 5"}},
		{"a ring, anticlockwise from the least corner", []string{"M5 5H0", "M5 5V0", "M0 0H5", "M0 5V0"}, []string{"M0 0L5 0L5 5L0 5L0 0Z"}},
		{"the straightest goes on at a junction", []string{"M0 0H5", "M5 0H9", "M5 0V5"}, []string{"M0 0L5 0L9 0", "M5 0L5 5"}},
		{"a crossing of four ends", []string{"M0 0H5", "M5 0H9", "M5 0V5", "M5 -5V0"}, []string{"M0 0L5 0L9 0", "M5 -5L5 0L5 5"}},
		{"a near gap at a corner meets where the lines do", []string{"M0 0H4.95", "M5 0.06V5"}, []string{"M0 0L5 0L5 5"}},
		{"a near gap in a line meets half-way", []string{"M0 0H5", "M5.08 0H9"}, []string{"M0 0L5.04 0L9 0"}},
		{"an end short of a line goes on to it", []string{"M0 -5V5", "M9 0H0.07"}, []string{"M0 -5L0 5", "M9 0L0 0"}},
		{"an end beside a line stays", []string{"M0 0H9", "M3 0.06H6"}, []string{"M0 0L9 0", "M3 0.06L6 0.06"}},
		{"the nearer of two ends, drawn first", []string{"M0 0H5", "M5.04 0H9", "M5.05 0.05V5"}, []string{"M0 0L5.02 0L9 0", "M5.05 0L5.05 5"}},
		{"the nearer of two ends, drawn last", []string{"M0 0H5", "M5.05 0.05V5", "M5.04 0H9"}, []string{"M0 0L5.02 0L9 0", "M5.05 0L5.05 5"}},
		{"two lines straight on at a junction, drawn last", []string{"M5 0V5", "M5 0H9", "M0 0H5"}, []string{"M5 0L5 5", "M0 0L5 0L9 0"}},
		{"of two equally straight at a fork the lower goes on", []string{"M5 0H9", "M0 5L5 0", "M0 -5L5 0"}, []string{"M0 -5L5 0L9 0", "M0 5L5 0"}},
		{"whichever was drawn first", []string{"M0 -5L5 0", "M5 0H9", "M0 5L5 0"}, []string{"M0 -5L5 0L9 0", "M0 5L5 0"}},
		{"arcs join lines", []string{"M0 0H5", "M5 0A5 5 0 0 1 10 5"}, []string{"M0 0L5 0A5 5 0 0 1 10 5"}},
		{"an open path whose ends meet", []string{"M0 0H5V5L0 0"}, []string{"M0 0L5 0L5 5L0 0Z"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := mend.Lines(nil, cuts(t, tt.data...), mend.Options{Limits: mend.DefaultLimits()})
			if got, want := paths(r.Strokes), paths(cuts(t, tt.want...)); !slices.Equal(got, want) {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}

// Only lines of one operation give way to each other or are joined.
func TestOperationsStayApart(t *testing.T) {
	strokes := cuts(t, "M0 0H9", "M0 0H9", "M9 0H20")
	strokes[1].Operation, strokes[2].Operation = artwork.Score, artwork.Pen
	if r := mend.Lines(nil, strokes, mend.Options{Limits: mend.DefaultLimits()}); len(r.Strokes) != 3 || len(r.Findings) != 0 {
		t.Errorf("%d strokes, findings %+v", len(r.Strokes), r.Findings)
	}
}

// Contours that run over each other have to stay closed to be united; those
// that lie side by side do not, and one inside the other loses the shared edge.
func TestUniteKeepsCrossingContours(t *testing.T) {
	tests := []struct {
		name   string
		data   []string
		closed int // with Unite, and without
		apart  int
	}{
		{"aligned and overlapping", []string{"M0 0H10V10H0Z", "M5 0H15V10H5Z"}, 2, 1},
		{"side by side", []string{"M0 0H10V10H0Z", "M10 0H20V10H10Z"}, 1, 1},
		{"one in the other", []string{"M0 0H10V10H0Z", "M0 2H5V8H0Z"}, 1, 1},
	}
	for _, tt := range tests {
		for _, unite := range []bool{true, false} {
			want := tt.apart
			if unite {
				want = tt.closed
			}
			closed := 0
			for _, s := range mend.Lines(nil, cuts(t, tt.data...), mend.Options{Limits: mend.DefaultLimits(), Unite: unite}).Strokes {
				if s.Path.Closed {
					closed++
				}
			}
			if closed != want {
				t.Errorf("%s, unite %t: %d closed contours, want %d", tt.name, unite, closed, want)
			}
		}
	}
}

// A fill needs all of its outline: filled tiles that come to share an edge are
// no fills any more, other fills stay.
func TestSharedEdgesTakeFillsAway(t *testing.T) {
	strokes := cuts(t, "M0 0H10V10H0Z", "M10 0H20V10H10Z", "M30 0H40V10H30Z")
	for i := range strokes {
		strokes[i].Fill = drawing.NonZero
	}
	r := mend.Lines(nil, strokes, mend.Options{Limits: mend.DefaultLimits(), Unite: true})
	var fills []drawing.FillRule
	for _, s := range r.Strokes {
		fills = append(fills, s.Fill)
	}
	if want := []drawing.FillRule{"", "", drawing.NonZero}; !slices.Equal(fills, want) {
		t.Errorf("fills %q, want %q", fills, want)
	}
}

// A circle of 4,000 steps of 0.008 mm is thinned out and stays a circle.
func TestTinySteps(t *testing.T) {
	const n, r = 4000, 5.0
	pts := make([]geometry.Point, n)
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		pts[i] = geometry.Pt(r*cos, r*sin)
	}
	got := mend.Lines(nil, []artwork.Stroke{{Path: geometry.Polygon(pts...), Operation: artwork.ThroughCut}}, mend.Options{Limits: mend.DefaultLimits()})
	if len(got.Strokes) != 1 || !got.Strokes[0].Path.Closed {
		t.Fatalf("%q", paths(got.Strokes))
	}
	p := got.Strokes[0].Path
	if float64(len(p.Segments)) > 2*math.Pi*r/0.05 {
		t.Errorf("%d segments are left", len(p.Segments))
	}
	for _, s := range p.Segments {
		if off := math.Abs(math.Hypot(s.End.X, s.End.Y) - r); off > 1e-9 {
			t.Errorf("vertex %v is %g mm off the circle", s.End, off)
		}
	}
	if short := 2*math.Pi*r - p.Length(); short < 0 || short > 0.001*r {
		t.Errorf("the circle is %g mm shorter", short)
	}
}

// A fault is marked where it is, and not with the whole line it lies on.
func TestPlacesAreWhereTheFaultIs(t *testing.T) {
	tests := []struct {
		data string
		code finding.Code
		want []string // "x y x y"
	}{
		{"M0 0H20H20.02H20.04H60H60.03H90V50H0Z", finding.TinySegments, []string{"20 0 20.04 0", "60 0 60.03 0"}},
		{"M0.02 0H90V50H0V0Z", finding.TinySegments, []string{"0 0 0.02 0"}}, // at the seam
		{"M0 0H20H20H60V50V50H0Z", finding.StrayPoints, []string{"20 0 20 0", "60 50 60 50"}},
	}
	for _, tt := range tests {
		o := mend.Options{Limits: mend.DefaultLimits()}
		if tt.code == finding.StrayPoints {
			o.Off = []string{mend.MendTiny}
		}
		var got []string
		for _, f := range mend.Lines(nil, cuts(t, tt.data), o).Findings {
			if f.Code != tt.code {
				continue
			}
			for _, p := range f.Places {
				got = append(got, fmt.Sprintf("%g %g %g %g", p.Box.Min.X, p.Box.Min.Y, p.Box.Max.X, p.Box.Max.Y))
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %s at %q, want %q", tt.data, tt.code, got, tt.want)
		}
	}
}
