package weeding_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// By hand: two plates and a register mark stay; the mark is nobody's piece, and a plate
// that is as large as the mark and lies elsewhere is one.
func TestPiecesAreCountedWithoutMarks(t *testing.T) {
	box := func(x, y, side float64) geometry.Path {
		return geometry.BoxAround(geometry.Pt(x, y), geometry.Pt(x+side, y+side)).Path()
	}
	plate, small, mark := box(0, 0, 40), box(60, 0, 6), box(80, 0, 6)
	m := &weeding.Map{
		Strokes: []artwork.Stroke{{Path: plate}, {Path: small}, {Path: mark, Added: artwork.Mark}},
		Regions: []weeding.Region{{Class: weeding.Kept, Outer: plate}, {Class: weeding.Kept, Outer: small}, {Class: weeding.Kept, Outer: mark}, {Class: weeding.Surround, Outer: box(-5, -5, 100)}},
	}
	if n := m.Pieces(); n != 2 {
		t.Errorf("%d pieces, want 2", n)
	}
}
