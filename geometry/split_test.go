package geometry_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"

	"pgregory.net/rapid"
)

// Whatever a segment is: split where it meets a line, its parts run as it does, within
// rounding, and none crosses the line.
func TestSplitPartsRunAsTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.IntRange(-1000, 1000)
		point := func(name string) geometry.Point {
			return geometry.Pt(float64(mm.Draw(t, name+" x"))/7, float64(mm.Draw(t, name+" y"))/7)
		}
		from, end := point("from"), point("end")
		s := rapid.SampledFrom([]geometry.Segment{
			geometry.LineTo(end), geometry.ArcTo(float64(rapid.IntRange(-100, 100).Draw(t, "bulge"))/100, end), geometry.CubicTo(point("c1"), point("c2"), end),
		}).Draw(t, "segment")
		axis := rapid.SampledFrom([]geometry.Axis{geometry.Upright, geometry.Level}).Draw(t, "axis")
		at := axis.Of(s.At(from, float64(rapid.IntRange(1, 99).Draw(t, "through"))/100)) // it is met there at least
		ts := s.Meets(from, axis, at)
		if !slices.IsSorted(ts) {
			t.Fatalf("met at %v", ts)
		}
		start, done := from, 0.0
		for i, part := range s.Split(from, ts) {
			until := 1.0
			if i < len(ts) {
				until = ts[i]
				if d := math.Abs(axis.Of(part.End) - at); d > 1e-7 {
					t.Fatalf("part %d ends %g mm off the line", i, d)
				}
			}
			lo, hi := math.Inf(1), math.Inf(-1)
			for k := range 21 {
				u := float64(k) / 20
				p := part.At(start, u)
				if d := p.Dist(s.At(from, done+u*(until-done))); d > 1e-6 {
					t.Fatalf("part %d strays by %g mm", i, d)
				}
				lo, hi = math.Min(lo, axis.Of(p)-at), math.Max(hi, axis.Of(p)-at)
			}
			if lo < -1e-6 && hi > 1e-6 {
				t.Fatalf("part %d crosses the line, from %g to %g", i, lo, hi)
			}
			start, done = part.End, until
		}
		if start != s.End {
			t.Fatalf("the parts end at %v, not at %v", start, s.End)
		}
	})
}
