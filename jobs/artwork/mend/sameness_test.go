package mend_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
)

// compass are eight lines of 5 mm from a point, each to a side of its own.
func compass() []geometry.Path {
	all := make([]geometry.Path, 8)
	for i := range all {
		x, y := [8]float64{5, 4, 0, -4, -5, -4, 0, 4}[i], [8]float64{0, 4, 5, 4, 0, -4, -5, -4}[i]
		all[i] = geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(x, y))
	}
	return all
}

// Where lines meet, many turns are equally flat. Which of them go on does not depend on
// which was drawn first: for every star of three to five of eight lines, in every order.
func TestStarsAreJoinedAlike(t *testing.T) {
	for which := range 1 << 8 {
		var star []artwork.Stroke
		for i, p := range compass() {
			if which>>i&1 == 1 {
				star = append(star, stroke(p))
			}
		}
		if len(star) < 3 || len(star) > 5 {
			continue
		}
		want := linesLeft(star)
		permuted(star, func(order []artwork.Stroke) {
			if got := linesLeft(order); !slices.Equal(got, want) {
				t.Fatalf("%q become %q, drawn otherwise %q", paths(order), got, want)
			}
		})
	}
}

// linesLeft returns what lines are mended to, without their order.
func linesLeft(strokes []artwork.Stroke) []string {
	return set(mend.Lines(nil, strokes, mend.Options{Limits: mend.DefaultLimits()}).Strokes)
}

// permuted calls f with all orders of strokes.
func permuted(strokes []artwork.Stroke, f func([]artwork.Stroke)) {
	var from func(k int)
	from = func(k int) {
		if k == len(strokes) {
			f(strokes)
		}
		for i := k; i < len(strokes); i++ {
			strokes[k], strokes[i] = strokes[i], strokes[k]
			from(k + 1)
			strokes[k], strokes[i] = strokes[i], strokes[k]
		}
	}
	from(0)
}

// Two lines that end up to 0.04 mm short of a corner, whatever its angle and wherever it
// lies, meet in that corner, and neither turns.
func TestCornersMeetWhereTheirLinesDo(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	met := 0
	for range 2000 {
		corner := geometry.Pt(200*random.Float64()-100, 200*random.Float64()-100)
		a, turn := 2*math.Pi*random.Float64(), (0.1+0.8*random.Float64())*math.Pi
		ways := [2]geometry.Point{}
		ways[0].Y, ways[0].X = math.Sincos(a)
		ways[1].Y, ways[1].X = math.Sincos(a + turn)
		short := [2]float64{0.002 + 0.038*random.Float64(), 0.002 + 0.038*random.Float64()}
		var lines []artwork.Stroke
		var ends [2]geometry.Point
		for i, way := range ways {
			ends[i] = corner.Add(way.Mul(short[i]))
			lines = append(lines, stroke(geometry.Polyline(corner.Add(way.Mul(3+5*random.Float64())), ends[i])))
		}
		if apart := ends[0].Dist(ends[1]); short[0] > apart || short[1] > apart {
			continue // it is nearer to meet anywhere else
		}
		met++
		got := mend.Lines(nil, lines, mend.Options{Limits: mend.DefaultLimits()}).Strokes
		if len(got) != 1 || len(got[0].Path.Segments) != 2 {
			t.Fatalf("%q become %q", paths(lines), paths(got))
		}
		if off := got[0].Path.Segments[0].End.Dist(corner); off > 1e-9 {
			t.Errorf("%q meet %g mm off their corner %v", paths(lines), off, corner)
		}
	}
	if met < 1000 {
		t.Errorf("only %d corners were met", met)
	}
}

// A ring with short steps in it loses them wherever it was begun: the vertices that are
// left are the same ones. By hand: 0.01 mm lie between the steps' ends, on edges that are
// straight, so that only the corners of the rectangle stay.
func TestTinyStepsGoWhereverARingBegins(t *testing.T) {
	ring := []geometry.Point{
		{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20.01, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 15}, {X: 40, Y: 15.02}, {X: 40, Y: 30},
		{X: 10.01, Y: 30}, {X: 10, Y: 30}, {X: 0, Y: 30}, {X: 0, Y: 12}, {X: 0, Y: 11.99}, {X: 0, Y: 11.98},
	}
	for begin := range ring {
		for _, back := range []bool{false, true} {
			pts := slices.Concat(ring[begin:], ring[:begin])
			if back {
				slices.Reverse(pts)
			}
			r := mend.Lines(nil, []artwork.Stroke{stroke(geometry.Polygon(pts...))}, mend.Options{Limits: mend.DefaultLimits()})
			if len(r.Strokes) != 1 || !r.Strokes[0].Path.Closed {
				t.Fatalf("from %v: %q", pts[0], paths(r.Strokes))
			}
			var left []string
			for _, s := range r.Strokes[0].Path.Segments {
				left = append(left, fmt.Sprintf("%g %g", s.End.X, s.End.Y))
			}
			slices.Sort(left)
			for _, corner := range []string{"0 0", "0 30", "40 0", "40 30"} {
				if !slices.Contains(left, corner) {
					t.Errorf("from %v, back %v: %q", pts[0], back, left)
				}
			}
			from := r.Strokes[0].Path.Start
			for _, s := range r.Strokes[0].Path.Segments {
				if from.Dist(s.End) < mend.DefaultLimits().TinyMM {
					t.Errorf("from %v, back %v: a step from %v to %v is left", pts[0], back, from, s.End)
				}
				from = s.End
			}
		}
	}
}
