package passes_test

import (
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// A score whose setting names no tool of its own is run by the blade of the cut at
// about half its force (40 to 60 % is common practice, no source): nothing is changed,
// the offset counts, and no score is cut past its closure. One that presses harder
// would cut, so it is meant for a blunt tip, like one that names its tool.
func TestTheBladeOfTheCutScores(t *testing.T) {
	for _, tt := range []struct {
		name  string
		share float64 // of the force of the cut
		tool  string  // that the setting names
		blade bool
	}{
		{"half", 0.5, "", true}, {"just light enough", 0.6, "", true}, {"too hard", 0.61, "", false},
		{"no force said", 0, "", false}, {"a tool of its own", 0.5, "tip-1", false},
	} {
		j := jobOn(t, "card-220-a4", 1, square(artwork.ThroughCut, 0, 0, 80), square(artwork.Score, 20, 20, 40))
		cut := workshop.Setting{ID: "cut", Family: j.req.Stock.Family, Operation: artwork.ThroughCut, ForceGF: 100, SpeedMMS: 50}
		score := workshop.Setting{ID: "score", Family: j.req.Stock.Family, Operation: artwork.Score, ForceGF: 100 * tt.share, SpeedMMS: 50, BladeID: tt.tool}
		j.req.Settings = []workshop.Setting{cut, score}
		j.req.Machine.Blade = workshop.Blade{ID: "b", OffsetMM: 0.4, OvercutMM: 0.7}
		j.req.Machine.Blades = append(j.req.Machine.Blades, workshop.Blade{ID: "tip-1"})
		all := j.order(t).Loads[0].Passes
		first, last := all[0], all[1]
		if (first.Blade == last.Blade) != tt.blade || last.Changed == tt.blade || (last.PauseS == 0) != tt.blade {
			t.Errorf("%s: by %q, then %q, changed %v, pause %g s", tt.name, first.Blade, last.Blade, last.Changed, last.PauseS)
		}
		if offset := first.Rule.OffsetMM; (offset == 0.4) != tt.blade || first.Rule.OvercutMM != 0 {
			t.Errorf("%s: the score has offset %g and overcut %g", tt.name, offset, first.Rule.OvercutMM)
		}
	}
}

// The test cut is made with each blade once, however many loads follow, and with no
// pen.
func TestTestCutsByBlade(t *testing.T) {
	plate, line := square(artwork.ThroughCut, 0, 0, 80), stroke(t, artwork.Perforate, "M40 0L40 80")
	pen := stroke(t, artwork.Pen, "M5 5L20 5")
	for _, tt := range []struct {
		name    string
		strokes []artwork.Stroke
		copies  int
		other   bool // perforates with another blade
		want    float64
	}{
		{"one load", []artwork.Stroke{plate}, 1, false, 1}, {"many loads", []artwork.Stroke{plate}, 40, false, 1},
		{"one blade, two passes", []artwork.Stroke{plate, line}, 1, false, 1}, {"two blades", []artwork.Stroke{plate, line}, 20, true, 2},
		{"a pen alone", []artwork.Stroke{pen}, 1, false, 0},
	} {
		j := jobOn(t, "card-160-a4", tt.copies, tt.strokes...)
		for i := range j.req.Settings {
			if tt.other && j.req.Settings[i].Operation == artwork.Perforate {
				j.req.Settings[i].BladeID = "another"
			}
		}
		j.req.Machine.Blades = append(j.req.Machine.Blades, workshop.Blade{ID: "another"})
		near(t, tt.name, j.order(t).Time.TestS, tt.want*j.req.Machine.TestS, 0)
	}
}
