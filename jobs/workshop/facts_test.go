package workshop_test

import (
	"encoding/json"
	"errors"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew; look at them before you keep them")

// What a workshop starts from is what was looked at, to the last number: sizes,
// margins, forces, speeds, prices and limits.
func TestSetsAreAsTheyWere(t *testing.T) {
	for name, set := range sets() {
		got, err := json.MarshalIndent(set(), "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join("testdata", name+".json")
		if *update {
			if err := os.WriteFile(file, append(got, '\n'), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(got)+"\n"); diff != "" {
			t.Errorf("%s changed; look at it, then run with -update:\n%.3000s", name, diff)
		}
	}
}

// A stock that is held in another way takes the margins of that, and keeps its
// usual way among the others: held back it is as it was.
func TestAnotherHold(t *testing.T) {
	usual := workshop.Held{Hold: workshop.Mat, MatTack: workshop.LowTack, UsableWidthMM: 200, MarginMM: 5, LeastMarginMM: 2, GapMM: 4}
	other := workshop.Held{Hold: workshop.Rollers, UsableWidthMM: 190, MarginMM: 10, LeastMarginMM: 9, GapMM: 6}
	third := workshop.Held{Hold: "frame", UsableWidthMM: 100, MarginMM: 50}
	s := workshop.Stock{Hold: usual.Hold, MatTack: usual.MatTack, UsableWidthMM: usual.UsableWidthMM, MarginMM: usual.MarginMM, LeastMarginMM: usual.LeastMarginMM, GapMM: usual.GapMM, Holds: []workshop.Held{other, third}}
	for _, same := range []workshop.Hold{"", workshop.Mat} {
		if got, ok := s.HeldBy(same); !ok || cmp.Diff(s, got) != "" {
			t.Errorf("held %q it is %+v, %t", same, got, ok)
		}
	}
	want := s
	want.Hold, want.MatTack, want.UsableWidthMM, want.MarginMM, want.LeastMarginMM, want.GapMM = other.Hold, "", 190, 10, 9, 6
	want.Holds = []workshop.Held{usual, third}
	got, ok := s.HeldBy(workshop.Rollers)
	if diff := cmp.Diff(want, got); diff != "" || !ok {
		t.Errorf("in the rollers, %t: %s", ok, diff)
	}
	if diff := cmp.Diff([]string{"rollers", "mat", "frame"}, got.KnownHolds()); diff != "" {
		t.Error(diff)
	}
	if got, ok := s.HeldBy("nowhere"); ok || cmp.Diff(s, got) != "" {
		t.Errorf("held nowhere it is %+v, %t", got, ok)
	}
}

// A setting gets the blade that it names, the one in the holder where it names none.
func TestBladesForSettings(t *testing.T) {
	m := workshop.Machine{Blade: workshop.Blade{ID: "a"}, Blades: []workshop.Blade{{ID: "b"}, {ID: "c"}}}
	for asked, want := range map[string]string{"": "a", "a": "a", "b": "b", "c": "c", "d": ""} {
		if got, ok := m.BladeFor(workshop.Setting{BladeID: asked}); got.ID != want || ok != (want != "") {
			t.Errorf("for %q the blade is %q, %t", asked, got.ID, ok)
		}
	}
}

// What a machine makes up for, whether folds mind the grain (from 200 g/m², common
// practice, no source), and what is cut mirrored.
func TestYesAndNo(t *testing.T) {
	for c, want := range map[workshop.Compensation][2]bool{"": {}, workshop.CompensatesNothing: {}, workshop.CompensatesOffset: {true, false}, workshop.CompensatesAll: {true, true}} {
		if got := [2]bool{c.Offset(), c.Overcut()}; got != want {
			t.Errorf("%q makes up for offset and overcut: %v", c, got)
		}
	}
	grain := 90.0
	for _, c := range []struct {
		grain *float64
		gsm   float64
		want  bool
	}{{nil, 300, false}, {&grain, 200, true}, {&grain, 199, false}, {&grain, 0, true}, {&grain, 0.5, false}, {nil, 0, false}} {
		if got := (workshop.Stock{GrainDeg: c.grain, GrammageGSM: c.gsm}).FoldsMindGrain(); got != c.want {
			t.Errorf("%v g/m², grain %v: %t", c.gsm, c.grain, got)
		}
	}
	yes, no := true, false
	always := workshop.Stock{Mirror: workshop.MirrorAlways}
	if !always.CutMirrored(nil) || always.CutMirrored(&no) || (workshop.Stock{}).CutMirrored(nil) || !(workshop.Stock{}).CutMirrored(&yes) {
		t.Error("who wants it mirrored is not heard")
	}
}

// Common practice without a source, as the comments of the code say it: joints by
// family, limits of stencils where none are set, and words for materials and holds.
func TestCommonPractice(t *testing.T) {
	for f, want := range map[workshop.Family]workshop.Join{
		workshop.CastFilm: {Joint: workshop.Overlap, OverlapMM: 6}, workshop.RemovableFilm: {Joint: workshop.Overlap, OverlapMM: 10}, workshop.HeatFilm: {Joint: workshop.Butt},
		workshop.StencilSheet: {Joint: workshop.Butt}, workshop.HeavyCard: {Joint: workshop.Tab, OverlapMM: 10},
	} {
		if got := (workshop.Stock{Family: f}).Joined(); got != want {
			t.Errorf("%s is joined by %+v, want %+v", f, got, want)
		}
	}
	own := workshop.StencilLimits{EachMM: 30}
	if got := own.OrDefault(); got != own {
		t.Errorf("limits that are set become %+v", got)
	}
	if got, want := (workshop.StencilLimits{}).OrDefault(), (workshop.StencilLimits{TwoBelowMM: 15, ThreeToMM: 60, EachMM: 40, MarginMM: 25, LeastMarginMM: 10}); got != want {
		t.Errorf("limits that are not set are %+v", got)
	}
	for f, want := range map[workshop.Family]string{workshop.Paper: "paper", workshop.LightCard: "card", workshop.HeatFilm: "heat film", workshop.CastFilm: "film", workshop.MagneticSheet: "magnetic sheet"} {
		if got := f.Material(); got != want {
			t.Errorf("%s is called %s", f, got)
		}
	}
	if l := workshop.LimitsOf(workshop.CastFilm); l.StrokeEasyMM != 1.2 || l.StrokeCareMM != 0.8 || l.StrokeExpertMM != 0.5 || l.BridgeMM != 1.5 {
		t.Errorf("cast film is weeded within %+v", l)
	}
	if workshop.Mat.Words() == workshop.Rollers.Words() || artwork.Score.Words() == artwork.Pen.Words() {
		t.Error("two things bear one name")
	}
}

// How stock is held and how a file is laid, in words that stand on worksheets.
func TestHoldsAndAxesInWords(t *testing.T) {
	if a, b := workshop.Mat.Words(), workshop.Rollers.Words(); a != "on a mat" || b != "in the rollers without a mat" {
		t.Errorf("held %q and %q", a, b)
	}
	for axes, want := range map[workshop.Axes]string{
		{}: "the feed runs along +y, counted from the left corner of the loading edge",
		{Feed: workshop.PlusX, Origin: workshop.TailRight}: "the feed runs along +x, counted from the right corner of the tail edge",
	} {
		if got := axes.Words(); got != want {
			t.Errorf("%+v: %s", axes, got)
		}
	}
}

// What is refused says what could be written, by hand: of A4 margins leave 10 mm
// where they are 143.5; a hold may stand once; a least margin may reach over the
// lanes at the sides.
func TestWhatAStockCouldSay(t *testing.T) {
	card, _ := workshop.Example().Stock("card-160-a4")
	card.MarginMM = 144
	var bad *workshop.FieldError
	if err := card.Check(); !errors.As(err, &bad) || bad.Change != "Write at most 143.5." || !strings.Contains(bad.Reason, "leave 9 mm") {
		t.Errorf("%v", err)
	}
	card.MarginMM = 143.5
	if err := card.Check(); err != nil {
		t.Errorf("margins that leave 10 mm: %v", err)
	}
	card, _ = workshop.Example().Stock("card-160-a4")
	card.UsableWidthMM, card.LeastMarginMM = 12, 99
	if err := card.Check(); err != nil {
		t.Errorf("a least margin as wide as the lanes: %v", err)
	}
	card, _ = workshop.Example().Stock("card-160-a4")
	card.Holds = append(card.Holds, card.Holds[0])
	if err := card.Check(); !errors.As(err, &bad) || bad.Field != "holds.1.hold" {
		t.Errorf("a hold that stands twice: %v", err)
	}
}

// Without the length of a new roll nothing is learned from its diameter.
func TestThicknessIsLearnedFromBoth(t *testing.T) {
	for _, c := range []struct {
		w       workshop.Wound
		um      float64
		learned bool
	}{
		{workshop.Wound{CoreMM: 76, NewMM: 25000, NewOuterMM: 110, ThicknessUM: 7}, math.Pi * (110*110 - 76*76) / 4 / 25, true},
		{workshop.Wound{CoreMM: 76, NewOuterMM: 110, ThicknessUM: 7}, 7, false}, {workshop.Wound{CoreMM: 76, NewMM: 25000, NewOuterMM: 76, ThicknessUM: 7}, 7, false},
		{workshop.Wound{CoreMM: 76, NewMM: 25000, ThicknessUM: 7}, 7, false},
	} {
		if um, learned := c.w.Thickness(); math.Abs(um-c.um) > 1e-9 || learned != c.learned {
			t.Errorf("%+v: %v µm, learned %t", c.w, um, learned)
		}
	}
}
