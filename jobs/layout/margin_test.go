package layout_test

import (
	"testing"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Card on a mat is held to its edge: a piece of 206 × 293 mm leaves 2 mm of A4 all
// round. Straight in the rollers 10 mm are lost at each side, and the mat is named as
// what would do (common practice, no source).
func TestMarginsGoByTheHold(t *testing.T) {
	for _, c := range []struct {
		name    string
		w, h    float64
		hold    workshop.Hold
		code    finding.Code
		nearest string
	}{
		{"within the margins on the mat", 200, 287, "", "", ""},
		{"nearer than the margins", 206, 293, "", finding.NearEdge, ""},
		{"nearer than the margins, turned", 293, 206, "", finding.NearEdge, ""},
		{"nearer than that", 207, 293, "", finding.OffTheStock, "card-160-a3"},
		{"within the margins in the rollers", 190, 277, workshop.Rollers, "", ""},
		{"in the rollers, what a mat would hold", 200, 287, workshop.Rollers, finding.OffTheStock, "card-160-a4"},
		{"larger than A3", 400, 430, "", finding.OffTheStock, ""},
	} {
		req := on(t, "card-160-a4", "wide-610", 1)
		for _, s := range workshop.Example().Stocks {
			if s.Family == workshop.LightCard && s.ID != req.Stock.ID {
				req.Others = append(req.Others, s)
			}
		}
		req.Stock, _ = req.Stock.HeldBy(c.hold)
		l := place(t, piece(c.w, c.h), req)
		if c.code == "" {
			if len(l.Findings) > 0 || len(l.Loads) != 1 {
				t.Errorf("%s: %d loads, findings %+v", c.name, len(l.Loads), l.Findings)
			}
			continue
		}
		if len(l.Findings) != 1 || l.Findings[0].Code != c.code || (len(l.Loads) > 0) != (c.code == finding.NearEdge) {
			t.Errorf("%s: %d loads, findings %+v, want %s", c.name, len(l.Loads), l.Findings, c.code)
		} else if got := l.Findings[0].Values["nearest"]; c.code == finding.OffTheStock && got != finding.Text(c.nearest) {
			t.Errorf("%s: the nearest stock is %v, want %q", c.name, got, c.nearest)
		}
	}
}

// By hand: 594 × 420 mm of mat carry two A4 sheets beside each other and one row of
// them; 610 mm of machine reach over both. Five sheets are three loads. A cutter of
// 305 mm reaches over one. Copies of a load lie on its sheets and no two overlap.
func TestSheetsShareAMat(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, length float64
		machine       float64
		loads, first  int
	}{
		{"two beside each other", 430, 420, 610, 3, 2},
		{"four", 430, 594, 610, 2, 4},
		{"one behind the other", 300, 594, 610, 3, 2},
		{"narrow machine", 430, 420, 305, 5, 1},
		{"just not two", 419, 420, 610, 5, 1},
		{"less than the sheet", 205, 594, 610, 5, 1},
	} {
		req := onA4(t, "card-160-a4", 5)
		req.Machine.WidthMM = c.machine
		req.Machine.Mats = []workshop.MatSize{{ID: "m", Tack: workshop.LowTack, WidthMM: c.width, LengthMM: c.length}}
		l := place(t, piece(180, 250), req)
		if len(l.Loads) != c.loads || max(1, len(l.Loads[0].Sheets)) != c.first || l.Usage.Sheets != 5 || l.Usage.StockMM2 != 5*210*297 {
			t.Errorf("%s: %d loads, %d sheets on the first; usage %+v", c.name, len(l.Loads), len(l.Loads[0].Sheets), l.Usage)
		}
		for _, load := range l.Loads {
			for i, sheet := range load.Sheets {
				if !sheet.Grow(-9.999).ContainsBox(load.Placements[i].Bounds) {
					t.Errorf("%s: copy %d at %v is not on its sheet %v", c.name, i, load.Placements[i].Bounds, sheet)
				}
			}
		}
	}
}

// By hand: with a longest run of 700 mm, lead and tail of 50 leave 600 for four rows of
// labels 120 mm high and 10 mm apart, three labels each: 12 in a run of 4·130 − 10 +
// 100 = 610 mm. 30 labels are two such runs and one of two rows, 350 mm.
func TestLongRunsAreSplit(t *testing.T) {
	req := on(t, "film-removable-610", "wide-610", 30)
	req.Stock.LongestRunMM, req.OneTurn = 700, true
	l := place(t, piece(180, 120), req)
	if len(l.Loads) != 3 || l.Loads[0].LengthMM != 610 || l.Loads[2].LengthMM != 350 || l.Usage.RollMM != 2*610+350 {
		t.Errorf("%d loads, usage %+v", len(l.Loads), l.Usage)
	}
	req.Stock.LengthMM = 1400 // two runs, and 180 mm for none
	l = place(t, piece(180, 120), req)
	if len(l.Findings) != 1 || l.Findings[0].Values["fit"] != finding.Int(24) || l.Findings[0].Values["need_mm"] != finding.Num(1570) {
		t.Errorf("findings %+v", l.Findings)
	}
}
