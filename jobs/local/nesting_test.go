package local_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/laid"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Chevrons of 160 × 160 mm lie in each other, four in a row, and take less film than
// by their rectangles, three in a row: as the regions say they were laid apart, and as
// the passes run them.
func TestNestedCopiesTakeLessFilm(t *testing.T) {
	file := cutting("M10 70 L130 10 H170 L50 70 L170 170 H130 Z")
	choices := onFilm
	choices.Copies, choices.Options = 4, plan.Options{NoBorder: true}
	rows := desk{workshop.Example(), choices}.run(t, file)
	choices.Options.Nesting = layout.Quick
	nested := desk{workshop.Example(), choices}.run(t, file)
	got, was := nested.layout(), rows.layout()
	gap := workshopStock(t, choices.Stock).GapMM
	if was.Nested != nil || got.Nested == nil || !got.Nested.Better || math.Abs(was.Usage.RollMM-got.Usage.RollMM-160-gap) > 0.01 {
		t.Fatalf("%+v: %g mm of roll, and %g in rows", got.Nested, got.Usage.RollMM, was.Usage.RollMM)
	}
	var areas []planar.Polygons
	load := got.Loads[0]
	for _, at := range load.Placements {
		areas = append(areas, areaOf(t, nested.weeding(), at.Transform))
	}
	laid.Check(t, areas, geometry.Box{Max: geometry.Pt(load.WidthMM, load.LengthMM)}, gap, 0.03)
	ran := nested.results[passes.Name].(*passes.Plan)
	for _, run := range ran.Loads[0].Passes[0].Runs {
		box := passes.Trace(run, nested.weeding().Strokes, got).Bounds()
		if at := load.Placements[run.Copy-1]; !at.Bounds.Grow(1e-6).ContainsBox(box) {
			t.Errorf("copy %d is cut in %v, and lies in %v", run.Copy, box, at.Bounds)
		}
	}
}

// What lies in the opening of another copy is cut before the opening, since it would
// come loose: frames with a square beside them that fits into the next one.
func TestWhatLiesInAnOpeningIsCutFirst(t *testing.T) {
	choices := onLightCard
	choices.Copies, choices.Options = 2, plan.Options{OneTurn: true, Nesting: layout.Quick}
	got := desk{workshop.Example(), choices}.run(t, cutting("M10 10h70v70h-70z", "M20 20h50v50h-50z", "M98 27h36v36h-36z"))
	l, m := got.layout(), got.weeding()
	if !l.Nested.Better {
		t.Fatalf("%+v", l.Nested)
	}
	within := 0
	ran := got.results[passes.Name].(*passes.Plan).Loads[0].Passes[0].Runs
	for i, later := range ran {
		inner := passes.Trace(later, m.Strokes, l).Bounds()
		for _, earlier := range ran[:i] {
			if outer := passes.Trace(earlier, m.Strokes, l).Bounds(); outer.ContainsBox(inner) {
				t.Errorf("stroke %d of copy %d is cut after what it lies in", later.Stroke, later.Copy)
			}
		}
		for _, other := range ran {
			if other.Copy != later.Copy && passes.Trace(other, m.Strokes, l).Bounds().ContainsBox(inner) {
				within++
			}
		}
	}
	if within == 0 {
		t.Error("no copy lies in another")
	}
}

// areaOf returns what is kept of a piece, as a map moves it.
func areaOf(t *testing.T, m *weeding.Map, to geometry.Affine) planar.Polygons {
	t.Helper()
	kept := planar.Region{Rule: planar.EvenOdd}
	for _, s := range m.Strokes {
		if s.Operation == artwork.KissCut || s.Operation == artwork.ThroughCut {
			kept.Rings = append(kept.Rings, s.Path.Transform(to).Flatten(0.01))
		}
	}
	area, err := planar.Union(nil, kept)
	if err != nil {
		t.Fatal(err)
	}
	return area
}

func workshopStock(t *testing.T, id string) workshop.Stock {
	t.Helper()
	s, ok := workshop.Example().Stock(id)
	if !ok {
		t.Fatalf("no stock %s", id)
	}
	return s
}
