package layout_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// A sheet lies in the middle of a narrower mat and flush with its leading edge, so
// copies lie in the middle of the sheet, and none beyond the mat's end. By hand: of
// A4, margins of 10 mm all round, a mat of 150 mm carries what lies between 30 and 180.
func TestCopiesStayOnTheMat(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, length float64
		within        geometry.Box
	}{
		{"narrower than the sheet", 150, 430, geometry.BoxAround(geometry.Pt(30, 10), geometry.Pt(180, 287))},
		{"shorter than the sheet", 300, 150, geometry.BoxAround(geometry.Pt(10, 10), geometry.Pt(200, 150))},
	} {
		req := onA4(t, "card-160-a4", 4)
		req.Machine.Mats = []workshop.MatSize{{ID: "m", Tack: workshop.LowTack, WidthMM: c.width, LengthMM: c.length}}
		l := place(t, piece(70, 60), req)
		if len(l.Findings) != 1 || l.Findings[0].Code != finding.SheetOverMat || l.Findings[0].Values["mat_width_mm"] != finding.Num(c.width) || l.Findings[0].Values["mat_length_mm"] != finding.Num(c.length) {
			t.Errorf("%s: findings %+v", c.name, l.Findings)
		}
		holdWithin(t, c.name, l, c.within)
		if l := place(t, piece(c.within.Width()+1, c.within.Height()), req); len(l.Loads) > 0 {
			t.Errorf("%s: what is 1 mm wider than the place lies at %+v", c.name, l.Loads[0].Placements)
		}
		if l := place(t, piece(c.within.Width(), c.within.Height()), req); len(l.Loads) == 0 {
			t.Errorf("%s: what just fits has no place", c.name)
		}
	}
	req := on(t, "film-removable-610", "wide-610", 3)
	req.Machine.WidthMM = 300
	l := place(t, piece(140, 60), req)
	if len(l.Findings) != 1 || l.Findings[0].Code != finding.MachineNarrower {
		t.Errorf("a cutter of 300 mm: findings %+v", l.Findings)
	}
	holdWithin(t, "a cutter of 300 mm", l, geometry.BoxAround(geometry.Pt(155, 50), geometry.Pt(455, 1e9)))
}

func holdWithin(t *testing.T, name string, l *layout.Layout, within geometry.Box) {
	t.Helper()
	if len(l.Loads) == 0 {
		t.Errorf("%s: nothing is laid", name)
	}
	for _, load := range l.Loads {
		for _, p := range load.Placements {
			if !within.Grow(1e-6).ContainsBox(p.Bounds) {
				t.Errorf("%s: copy %d lies at %v, want it within %v", name, p.Copy, p.Bounds, within)
			}
		}
	}
}

// Sheets on one mat lie edge to edge, the first row first, and the load is as wide
// and long as they are together.
func TestSheetsLieEdgeToEdge(t *testing.T) {
	req := onA4(t, "card-160-a4", 3)
	req.Machine.Mats = []workshop.MatSize{{ID: "m", Tack: workshop.LowTack, WidthMM: 420, LengthMM: 594}} // just two by two
	l := place(t, piece(180, 250), req)
	if len(l.Loads) != 1 {
		t.Fatalf("%d loads, want one", len(l.Loads))
	}
	want := []geometry.Box{
		geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(210, 297)), geometry.BoxAround(geometry.Pt(210, 0), geometry.Pt(420, 297)), geometry.BoxAround(geometry.Pt(0, 297), geometry.Pt(210, 594)),
	}
	load := l.Loads[0]
	if len(load.Sheets) != len(want) || load.WidthMM != 420 || load.LengthMM != 594 {
		t.Fatalf("%d sheets, together %v by %v", len(load.Sheets), load.WidthMM, load.LengthMM)
	}
	for i, w := range want {
		if load.Sheets[i] != w || !w.ContainsBox(load.Placements[i].Bounds) {
			t.Errorf("sheet %d at %v with a copy at %v, want %v", i, load.Sheets[i], load.Placements[i].Bounds, w)
		}
	}
}
