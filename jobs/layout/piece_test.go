package layout_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// By hand: two kept regions and a hole; a fold of 30 mm along the feed and one
// of 10 mm across it, on stock without a grain and with one either way.
func TestPieceOfAWeedingMap(t *testing.T) {
	fold := func(x, y float64) artwork.Stroke {
		return artwork.Stroke{Operation: artwork.Score, Path: geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(x, y))}
	}
	m := &weeding.Map{
		Bounds:  geometry.Box{Min: geometry.Pt(1, 2), Max: geometry.Pt(41, 32)},
		Regions: []weeding.Region{{Class: weeding.Kept, AreaMM2: 100}, {Class: weeding.Counter, AreaMM2: 7}, {Class: weeding.Kept, AreaMM2: 50}},
		Strokes: []artwork.Stroke{fold(0, 30), fold(10, 0), {Operation: artwork.KissCut, Path: geometry.Circle(geometry.Pt(5, 5), 90)}},
	}
	along, across := 90.0, 0.0
	for _, c := range []struct {
		name             string
		grain            *float64
		grammage         float64
		straight, turned float64
	}{
		{"no grain", nil, 220, 0, 0}, {"folds along the grain", &along, 220, 10, 30}, {"folds across the grain", &across, 220, 30, 10},
		{"just heavy enough to crack", &along, 200, 10, 30}, {"just too light", &along, 199, 0, 0}, {"of a weight nobody entered", &along, 0, 10, 30},
	} {
		want := layout.Piece{Bounds: m.Bounds, NetMM2: 150, HullMM2: 1200, AcrossMM: c.straight, TurnedMM: c.turned}
		if got := layout.PieceOf(m, workshop.Stock{GrainDeg: c.grain, GrammageGSM: c.grammage}); got != want {
			t.Errorf("%s: %+v, want %+v", c.name, got, want)
		}
	}
}
