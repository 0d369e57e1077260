package geometry_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/property"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// What is handed on in memory is what comes back from the store, to the bit.
func TestCanonicalIsWhatReadsBack(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		coord := rapid.OneOf(rapid.Float64Range(-1e3, 1e3), rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, 0.1}))
		point := func() geometry.Point { return geometry.Pt(coord.Draw(t, "x"), coord.Draw(t, "y")) }
		p := geometry.Path{Start: point()}
		for range rapid.IntRange(0, 5).Draw(t, "segments") {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				bulge := rapid.OneOf(rapid.Float64Range(-1, 1), rapid.SampledFrom([]float64{1, -1, 1e-9})).Draw(t, "bulge")
				p.Segments = append(p.Segments, geometry.ArcTo(bulge, point()))
			case 1:
				p.Segments = append(p.Segments, geometry.CubicTo(point(), point(), point()))
			default:
				p.Segments = append(p.Segments, geometry.LineTo(point()))
			}
		}
		if len(p.Segments) > 0 && rapid.Bool().Draw(t, "closed") {
			p.Close()
		}
		text, err := p.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var stored geometry.Path
		if err := stored.UnmarshalText(text); err != nil {
			t.Fatal(err)
		}
		got := p.Canonical()
		if diff := cmp.Diff(bits(stored), bits(got)); diff != "" {
			t.Fatalf("%s\n%s", text, diff)
		}
	})
}

// bits are all that a path holds, minus signs of zeros included.
func bits(p geometry.Path) (all []uint64) {
	put := func(vs ...float64) {
		for _, v := range vs {
			all = append(all, math.Float64bits(v))
		}
	}
	put(p.Start.X, p.Start.Y)
	for _, s := range p.Segments {
		put(float64(s.Kind), s.End.X, s.End.Y, s.C1.X, s.C1.Y, s.C2.X, s.C2.Y, s.Bulge)
	}
	if p.Closed {
		put(1)
	}
	return all
}
