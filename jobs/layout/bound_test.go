package layout_test

import (
	"math"
	"testing"
)

// By hand: six labels of 180 × 120, 10 mm apart on a roll of which 590 mm are cut,
// take 6·190·130 mm² with half a gap round each, of an area 600 mm wide: 247 mm, less
// one gap, and with lead and tail of 50 each 337 mm. In three lanes they need 350.
func TestBoundOfRectanglesOnARoll(t *testing.T) {
	req := on(t, "film-removable-610", "wide-610", 6)
	req.Stock.GapMM = 10
	u := place(t, piece(180, 120), req).Usage
	if math.Abs(u.AreaBound-337) > 1e-9 || u.RollMM != 350 {
		t.Errorf("bound %v of %v mm, want 337 of 350", u.AreaBound, u.RollMM)
	}
	// One takes as much as it is long, whichever way it may lie.
	req.Copies = 1
	if u := place(t, piece(180, 120), req).Usage; math.Abs(u.AreaBound-220) > 1e-9 {
		t.Errorf("of one the bound is %v mm, want 220", u.AreaBound)
	}
}

// By hand: 17 tags of 90 × 55, 10 mm apart, take 17·100·65 mm² of areas of 200 × 287:
// 1.93, so two sheets.
func TestBoundOfRectanglesOnSheets(t *testing.T) {
	req := onA4(t, "card-160-a4", 17)
	req.Stock.GapMM = 10
	if got := place(t, piece(90, 55), req).Usage.AreaBound; got != 2 {
		t.Errorf("bound %v sheets, want 2", got)
	}
}
