package drawing_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Polygons that are cut off wind as often round every place inside as they did. Source: the
// winding number by the sum of the angles of their sides, worked out here.
func TestWindowedClipsWindTheSame(t *testing.T) {
	const far = 100
	r := rand.New(rand.NewPCG(15, 1))
	winds := func(p geometry.Path, at geometry.Point) int {
		sum, from := 0.0, p.Start
		for _, s := range append(p.Segments, geometry.LineTo(p.Start)) {
			u, v := from.Sub(at), s.End.Sub(at)
			sum, from = sum+math.Atan2(u.Cross(v), u.Dot(v)), s.End
		}
		return int(math.Round(sum / (2 * math.Pi)))
	}
	cut := 0
	for range 3000 {
		var corners []geometry.Point
		for range 3 + r.IntN(6) {
			reach := math.Pow(10, 1+4*r.Float64())
			corners = append(corners, geometry.Pt(reach*(2*r.Float64()-1), reach*(2*r.Float64()-1)))
		}
		whole := geometry.Polygon(corners...)
		out, ok := drawing.Windowed([]drawing.Region{{Paths: []geometry.Path{whole}}}, far)
		if !ok {
			t.Fatalf("%v is refused", corners)
		}
		for _, p := range out[0].Paths {
			for _, s := range p.Segments {
				if math.Max(math.Abs(s.End.X), math.Abs(s.End.Y)) > far*(1+1e-9) {
					t.Fatalf("%v lies outside", s.End)
				}
			}
		}
		if !drawing.Ordinary([]geometry.Path{whole}, far) {
			cut++
		}
		for range 5 {
			at := geometry.Pt(far*(2*r.Float64()-1), far*(2*r.Float64()-1))
			got := 0
			for _, p := range out[0].Paths {
				got += winds(p, at)
			}
			if want := winds(whole, at); got != want {
				t.Fatalf("%v winds %d times round %v, before it was %d", out[0].Paths, got, at, want)
			}
		}
	}
	if cut < 1000 {
		t.Errorf("only %d were cut off", cut)
	}
}

// A curve that reaches too far, and a corner beyond all numbers, cannot be clips.
func TestWindowedRefuses(t *testing.T) {
	for name, p := range map[string]geometry.Path{
		"a circle":    geometry.Circle(geometry.Pt(0, 0), 200),
		"a far point": geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(1e300, 0), geometry.Pt(0, 9)),
		"no number":   geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(math.NaN(), 0), geometry.Pt(0, 9)),
	} {
		if out, ok := drawing.Windowed([]drawing.Region{{Paths: []geometry.Path{p}}}, 100); ok || len(out) != 1 {
			t.Errorf("%s is taken: %v", name, out)
		}
	}
}
