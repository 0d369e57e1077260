package layout_test

import (
	"math"
	"testing"
)

// Tape by hand: over copies in line it is one piece with a grip of 10 mm at each
// end; the worked example's six labels lie in two rows of 560 mm, 120 mm wide,
// which take 2 · 580 mm where six pieces would take 6 · 200. A single kept part
// takes none unless it goes to a wall, and heat film never does.
func TestTape(t *testing.T) {
	for _, c := range []struct {
		name       string
		stock      string
		w, h       float64
		copies     int
		single     bool
		wall       bool
		pieces     int
		m, areaMM2 float64
	}{
		{"the labels of the worked example", "film-removable-610", 180, 120, 6, false, false, 2, 1.16, 139200},
		{"one label", "film-removable-610", 180, 120, 1, false, false, 1, 0.2, 24000},
		{"a sticker", "film-removable-610", 180, 120, 6, true, false, 0, 0, 0},
		{"a sticker for a wall", "film-removable-610", 180, 120, 6, true, true, 2, 1.16, 139200},
		{"upright, two by two: the tape runs along the feed", "film-removable-610", 250, 320, 4, false, false, 2, 1.34, 335000},
		{"upright, side by side: one piece over all", "film-removable-610", 100, 60, 6, false, false, 1, 0.43, 43000},
		{"heat film", "film-heat-500", 180, 120, 6, false, true, 0, 0, 0},
		{"card", "card-160-a4", 90, 55, 6, false, true, 0, 0, 0},
	} {
		p := piece(c.w, c.h)
		p.Single = c.single
		req := on(t, c.stock, "wide-610", c.copies)
		req.OneTurn, req.OnWall = true, c.wall
		u := place(t, p, req).Usage
		if u.TapePieces != c.pieces || math.Abs(u.TapeM-c.m) > 1e-9 || math.Abs(u.TapeMM2-c.areaMM2) > 1e-6 || (u.TapeTack != "") != (c.pieces > 0) {
			t.Errorf("%s: %d pieces, %g m, %g mm², tack %q; want %d, %g, %g", c.name, u.TapePieces, u.TapeM, u.TapeMM2, u.TapeTack, c.pieces, c.m, c.areaMM2)
		}
	}
}

// Copies in line that lie farther apart than two grips get tape each: by hand,
// three of 100 mm with gaps of 19 and 21.
func TestTapeIsNotLaidOverLongGaps(t *testing.T) {
	for gap, want := range map[float64]float64{19: 0.1*3 + 0.038 + 0.02, 21: 3 * 0.12} {
		req := on(t, "film-removable-610", "wide-610", 3)
		req.Stock.GapMM = gap
		if u := place(t, piece(100, 60), req).Usage; math.Abs(u.TapeM-want) > 1e-9 {
			t.Errorf("gaps of %g mm: %g m, want %g", gap, u.TapeM, want)
		}
	}
}
