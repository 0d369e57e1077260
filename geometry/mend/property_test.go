package mend_test

import (
	"fmt"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/mend"

	"github.com/google/go-cmp/cmp"
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
	rapid.Check(t, func(t *rapid.T) {
		o := mend.Options{Limits: mend.DefaultLimits()}
		once := mend.Lines(soup(t), o)
		twice := mend.Lines(once.Strokes, o)
		if got, want := set(twice.Strokes), set(once.Strokes); !slices.Equal(got, want) {
			t.Fatalf("differs:\n%s", cmp.Diff(want, got))
		}
		if len(twice.Findings) > 0 || twice.SavedMM > 0 {
			t.Fatalf("mended again: saved %g, %+v", twice.SavedMM, twice.Findings)
		}
	})
}

func TestOrderChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := mend.Options{Limits: mend.DefaultLimits()}
		strokes := soup(t)
		want := mend.Lines(strokes, o)
		got := mend.Lines(rapid.Permutation(strokes).Draw(t, "permuted"), o)
		if g, w := set(got.Strokes), set(want.Strokes); !slices.Equal(g, w) {
			t.Fatalf("differs:\n%s", cmp.Diff(w, g))
		}
		if got.SavedMM != want.SavedMM {
			t.Fatalf("saved %g permuted, %g first", got.SavedMM, want.SavedMM)
		}
		if g, w := mend.CheckEnds(got.Strokes, o.Limits), mend.CheckEnds(want.Strokes, o.Limits); fmt.Sprint(g) != fmt.Sprint(w) {
			t.Fatalf("ends %+v permuted, %+v first", g, w)
		}
	})
}
