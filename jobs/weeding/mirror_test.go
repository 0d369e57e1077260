package weeding_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/weeding"
)

// At the bench mirrored work lies reflected in the upright middle line of its bounds, with
// all that is said of it: where to grip and pull, what is narrow, what was found. Reflected
// again it is the work as it was drawn; what is not mirrored lies as it is.
func TestMirroredWorkLiesReflected(t *testing.T) {
	a := drawn(t, "M0 0H60V30H40V3H20V12L0 30Z", "M5 5H8V8H5Z", "M45 10H46.2V25H45Z", "M80 0H120V0.8H80Z", "M80 20H130L80 34Z", "M90 5H100V15H90Z", "M95 10H105V18H95Z", "M30 40H50")
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
	plain := chart(t, a, req)
	if plain.AsItLies(nil) != plain {
		t.Error("what is not mirrored lies in another way than it is")
	}
	req.Mirrored = true
	drawnMap := chart(t, a, req)
	lies := drawnMap.AsItLies(nil)
	if got, want := retold(lies.AsItLies(nil)), retold(drawnMap); got != want {
		t.Errorf("reflected twice it is\n%s\nand was\n%s", got, want)
	}
	sum := lies.Bounds.Min.X + lies.Bounds.Max.X
	over := func(b geometry.Box) geometry.Box {
		return geometry.Box{Min: geometry.Pt(sum-b.Max.X, b.Min.Y), Max: geometry.Pt(sum-b.Min.X, b.Max.Y)}
	}
	alike := func(what string, got, want geometry.Box) {
		if got.Min.Dist(want.Min) > 1e-9 || got.Max.Dist(want.Max) > 1e-9 {
			t.Errorf("%s within %v, want %v", what, got, want)
		}
	}
	for i := range lies.Regions {
		r, was := &lies.Regions[i], &drawnMap.Regions[i]
		alike("region", r.Outer.Bounds(), over(was.Outer.Bounds()))
		if r.Outer.Area() <= 0 || !inRegion(r.Pick, r) {
			t.Errorf("region %d: %g mm² anticlockwise, grip at %v", r.Number, r.Outer.Area(), r.Pick)
		}
		if was.LeastWidthAt != nil && math.Abs(r.LeastWidthAt.X+was.LeastWidthAt.X-sum) > 1e-9 {
			t.Errorf("region %d is narrow at %v, want %v reflected", r.Number, *r.LeastWidthAt, *was.LeastWidthAt)
		}
	}
	for i := range lies.Strokes {
		alike("line", lies.Strokes[i].Path.Bounds(), over(drawnMap.Strokes[i].Path.Bounds()))
	}
	for i, s := range lies.Steps {
		was := drawnMap.Steps[i]
		sin, cos := math.Sincos(s.PeelDeg * math.Pi / 180)
		wasSin, wasCos := math.Sincos(was.PeelDeg * math.Pi / 180)
		if math.Abs(sin-wasSin) > 1e-9 || math.Abs(cos+wasCos) > 1e-9 || s.PeelDeg <= -180 || s.PeelDeg > 180 {
			t.Errorf("step %d pulls to %g°, and %g° before", s.Order, s.PeelDeg, was.PeelDeg)
		}
	}
	if len(lies.Findings) == 0 || len(lies.Questions) == 0 {
		t.Fatal("nothing was found or asked that could lie anywhere")
	}
	for i := range lies.Findings {
		for k := range lies.Findings[i].Places {
			alike(string(lies.Findings[i].Code), lies.Findings[i].Places[k].Box, over(drawnMap.Findings[i].Places[k].Box))
		}
	}
	for i := range lies.Questions {
		for k := range lies.Questions[i].Places {
			alike(lies.Questions[i].ID, lies.Questions[i].Places[k].Box, over(drawnMap.Questions[i].Places[k].Box))
		}
	}
}
