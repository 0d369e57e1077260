package layout_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// By hand: a plate of 20 by 10 with a hole in it and a kept region in that; a fold of 30 mm along the feed and one
// of 10 mm across it, on stock without a grain and with one either way.
func TestPieceOfAWeedingMap(t *testing.T) {
	fold := func(x, y float64) artwork.Stroke {
		return artwork.Stroke{Operation: artwork.Score, Path: geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(x, y))}
	}
	plate := geometry.Box{Min: geometry.Pt(2, 3), Max: geometry.Pt(22, 13)}
	m := &weeding.Map{
		Bounds: geometry.Box{Min: geometry.Pt(1, 2), Max: geometry.Pt(41, 32)},
		Regions: []weeding.Region{
			{Class: weeding.Kept, Depth: 1, AreaMM2: 100, Outer: plate.Path()}, {Class: weeding.Counter, Depth: 2, AreaMM2: 7},
			{Class: weeding.Kept, Depth: 3, AreaMM2: 50, Outer: plate.Path()},
		},
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
		want := layout.Piece{
			Bounds: m.Bounds, Kept: plate, NetMM2: 150, FootMM2: 200, SolidMM2: 200, AcrossMM: c.straight, TurnedMM: c.turned,
			Outline: []geometry.Path{plate.Path(), m.Strokes[0].Path, m.Strokes[1].Path},
		}
		if diff := cmp.Diff(want, layout.PieceOf(m, workshop.Stock{GrainDeg: c.grain, GrammageGSM: c.grammage})); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

// A weed border round the work is part of what a copy takes of the stock: all of its box.
// Whichever of the regions it is, the piece knows it.
func TestPieceWithAWeedBorder(t *testing.T) {
	kept := geometry.Box{Min: geometry.Pt(8, 8), Max: geometry.Pt(28, 18)}
	border := weeding.Region{Class: weeding.Surround, Depth: 0}
	letter := weeding.Region{Class: weeding.Kept, Depth: 1, AreaMM2: 200, Outer: kept.Path()}
	box := geometry.Box{Max: geometry.Pt(36, 26)}
	for _, c := range []struct {
		regions  []weeding.Region
		bordered bool
		foot     float64
	}{{[]weeding.Region{border, letter}, true, 36 * 26}, {[]weeding.Region{letter, border}, true, 36 * 26}, {[]weeding.Region{letter}, false, 200}} {
		p := layout.PieceOf(&weeding.Map{Bounds: box, Regions: c.regions}, workshop.Stock{})
		if p.Bordered != c.bordered || p.FootMM2 != c.foot || p.NetMM2 != 200 || p.Kept != kept || !p.Single {
			t.Errorf("%d regions, bordered %v: %+v", len(c.regions), c.bordered, p)
		}
	}
}
