package mend_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"

	"github.com/google/go-cmp/cmp"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"
)

// soup draws strokes of all kinds on a coarse grid, so that they share ends,
// overlap and repeat each other often; some are off the grid by less than the
// limits of joining and asking.
func soup(t *rapid.T) []artwork.Stroke {
	at := rapid.Custom(func(t *rapid.T) geometry.Point {
		p := geometry.Pt(float64(rapid.IntRange(0, 5).Draw(t, "x")), float64(rapid.IntRange(0, 5).Draw(t, "y")))
		off := rapid.SampledFrom([]float64{0, 0, 0, 0.0004, 0.01, 0.03, 0.07, 0.4}).Draw(t, "off")
		return p.Add(geometry.Pt(off, -off/3))
	})
	stroke := rapid.Custom(func(t *rapid.T) artwork.Stroke {
		p := geometry.Path{Start: at.Draw(t, "start")}
		for range rapid.IntRange(1, 5).Draw(t, "segments") {
			switch q := at.Draw(t, "to"); rapid.IntRange(0, 5).Draw(t, "kind") {
			case 0:
				p.Segments = append(p.Segments, geometry.ArcTo(rapid.SampledFrom([]float64{1, -1, 0.5, -0.25}).Draw(t, "bulge"), q))
			case 1:
				p.Segments = append(p.Segments, geometry.CubicTo(at.Draw(t, "c1"), at.Draw(t, "c2"), q))
			default:
				p.Segments = append(p.Segments, geometry.LineTo(q))
			}
		}
		if rapid.IntRange(0, 2).Draw(t, "closed") == 0 {
			p.Close()
		}
		return artwork.Stroke{Path: p, Operation: rapid.SampledFrom([]artwork.Operation{artwork.ThroughCut, artwork.ThroughCut, artwork.Score}).Draw(t, "operation")}
	})
	all := rapid.SliceOfN(stroke, 1, 12).Draw(t, "strokes")
	for i := range all {
		all[i].Shape = i
	}
	return all
}

// set returns strokes as texts, sorted: what they are without their order.
func set(strokes []artwork.Stroke) []string {
	var all []string
	for _, s := range strokes {
		all = append(all, fmt.Sprint(s.Operation, s.Fill, s.Layer, s.Path))
	}
	slices.Sort(all)
	return all
}

func TestMendingTwiceChangesNothing(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		o := mend.Options{Limits: mend.DefaultLimits()}
		once := mend.Lines(nil, soup(t), o)
		twice := mend.Lines(nil, once.Strokes, o)
		if got, want := set(twice.Strokes), set(once.Strokes); !slices.Equal(got, want) {
			t.Fatalf("differs:\n%s", cmp.Diff(want, got))
		}
		if len(twice.Findings) > 0 || twice.SavedMM > 0 {
			t.Fatalf("mended again: saved %g, %+v", twice.SavedMM, twice.Findings)
		}
	})
}

func TestOrderChangesNothing(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		o := mend.Options{Limits: mend.DefaultLimits()}
		strokes := soup(t)
		want := mend.Lines(nil, strokes, o)
		got := mend.Lines(nil, rapid.Permutation(strokes).Draw(t, "permuted"), o)
		if g, w := set(got.Strokes), set(want.Strokes); !slices.Equal(g, w) {
			t.Fatalf("differs:\n%s", cmp.Diff(w, g))
		}
		if got.SavedMM != want.SavedMM {
			t.Fatalf("saved %g permuted, %g first", got.SavedMM, want.SavedMM)
		}
		if g, w := mend.CheckEnds(nil, got.Strokes, o.Limits), mend.CheckEnds(nil, want.Strokes, o.Limits); fmt.Sprint(g) != fmt.Sprint(w) {
			t.Fatalf("ends %+v permuted, %+v first", g, w)
		}
	})
}

// Nothing is lost and nothing is made up: every line that was drawn is still
// there, and every line that is there was drawn, within the limit of joining
// and the tolerances of overlaps and tiny segments.
func TestMendingStaysWithinLimits(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		o := mend.Options{Limits: mend.DefaultLimits()}
		strokes := soup(t)
		mended := mend.Lines(nil, strokes, o).Strokes
		bound := o.Limits.JoinMM + o.Limits.OverlapMM + o.Limits.TinyMM
		for _, pair := range [][2][]artwork.Stroke{{strokes, mended}, {mended, strokes}} {
			if p, d := farthest(pair[0], pair[1], o.Limits.TinyMM); d > bound {
				t.Fatalf("%v is %g mm off", p, d)
			}
		}
	})
}

// farthest returns the vertex of the flattened strokes of one operation in a
// that is farthest from those in b. Specks, by the diagonal of their box, do not
// count: they are dropped.
func farthest(a, b []artwork.Stroke, speck float64) (at geometry.Point, dist float64) {
	for _, s := range a {
		if b := s.Path.Bounds(); b.Min.Dist(b.Max) <= speck {
			continue
		}
		for _, p := range s.Path.Flatten(0.02) {
			near := math.Inf(1)
			for _, o := range b {
				if o.Operation == s.Operation {
					near = math.Min(near, distance(p, o.Path.Flatten(0.02)))
				}
			}
			if near > dist {
				at, dist = p, near
			}
		}
	}
	return at, dist
}

func distance(p geometry.Point, line []geometry.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, d := line[i-1], line[i].Sub(line[i-1])
		t := 0.0
		if l := d.Dot(d); l > 0 {
			t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/l))
		}
		best = math.Min(best, p.Dist(a.Add(d.Mul(t))))
	}
	return best
}
