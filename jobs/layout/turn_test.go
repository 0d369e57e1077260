package layout_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
)

// A copy says by how much it is turned, and its transform turns it so: tags of
// 90 × 55 mm lie both ways on A4 (check values, row 50).
func TestTurnIsThatOfTheTransform(t *testing.T) {
	seen := map[float64]int{}
	for _, at := range place(t, piece(90, 55), onA4(t, "card-160-a4", 9)).Loads[0].Placements {
		along := at.Transform.ApplyVector(geometry.Pt(1, 0))
		if got := math.Atan2(along.Y, along.X) * 180 / math.Pi; got != at.TurnDeg {
			t.Errorf("copy %d is turned by %g°, and says %g°", at.Copy, got, at.TurnDeg)
		}
		seen[at.TurnDeg]++
	}
	if seen[0] == 0 || seen[90] == 0 {
		t.Errorf("turned %v", seen)
	}
}

// Every quarter turn puts the rectangle of a copy where it is said to lie, turned over
// before it is turned where it is cut mirrored.
func TestQuartersPutTheRectangleInItsPlace(t *testing.T) {
	p, corner := piece(90, 55), geometry.Pt(17, 23)
	for quarter := range 4 {
		for _, mirrored := range []bool{false, true} {
			at := layout.Placed(p, corner, quarter, mirrored)
			box := p.Bounds.Path().Transform(at.Transform).Bounds()
			if box.Min.Dist(corner) > 1e-9 || at.Bounds.Min.Dist(box.Min) > 1e-9 || at.Bounds.Max.Dist(box.Max) > 1e-9 {
				t.Errorf("%d quarters, mirrored %v: lies in %v, and says %v", quarter, mirrored, box, at.Bounds)
			}
			up := at.Transform.ApplyVector(geometry.Pt(0, 1)) // no mirroring across the feed changes it
			if turn := math.Mod(math.Atan2(up.Y, up.X)*180/math.Pi+270, 360); math.Abs(turn-at.TurnDeg) > 1e-9 || (at.Transform.Det() < 0) != mirrored {
				t.Errorf("%d quarters, mirrored %v: turned by %g°, and says %g°", quarter, mirrored, turn, at.TurnDeg)
			}
		}
	}
}

// A roll that is too short is one finding, which says how many copies it holds:
// 200 mm less 50 at each end take one row of three labels of 180 × 90 mm. All
// nine need a row of six on end, 6·90 + 5·10 = 590 mm wide, and one of three.
func TestRollTooShortSaysWhatItHolds(t *testing.T) {
	req := on(t, "film-removable-610", "wide-610", 9)
	req.Stock.LengthMM = 200
	l := place(t, piece(180, 90), req)
	i := slices.IndexFunc(l.Findings, func(f finding.Finding) bool { return f.Code == finding.RollTooShort })
	if i < 0 || len(l.Loads) > 0 {
		t.Fatalf("%d loads, findings %v", len(l.Loads), l.Findings)
	}
	f := l.Findings[i]
	if f.Count != 1 || f.Values["fit"] != finding.Int(3) || f.Values["copies"] != finding.Int(9) || f.Values["left_mm"] != finding.Num(200) || f.Values["need_mm"] != finding.Num(180+10+90+100) {
		t.Errorf("%+v", f)
	}
}
