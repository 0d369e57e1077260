package view_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// summed is a summary as far as its cautions.
func summed(status plan.Status, p *view.Plan) string {
	text, _, _ := strings.Cut(view.Text(status, p, nil), "\n\n")
	return text + "\n"
}

// A summary of card on two loads, written out by hand: passes with how their settings
// stand, with what each takes where that is a minute at least, and with a test mark;
// minutes of one number, of a range, from nothing and of nothing; the folds, the nesting,
// what is cheaper.
func TestTextOfCardInTwoLoads(t *testing.T) {
	minutes := func(low, likely, high float64) estimate.Range {
		return estimate.Range{Low: low, Likely: likely, High: high}
	}
	trusted := trial.Standing{State: trial.Trusted, Good: 3, Last: "2029-01-02"}
	aged := trial.Standing{State: trial.Tested, Good: 3, Lowered: trial.Age}
	p := &view.Plan{
		Request: view.Request{Copies: 3, Purpose: "pieces", StockName: "Card", Family: workshop.LightCard, Form: workshop.Sheet},
		Size:    &view.Size{WidthMM: 0, HeightMM: 20, Why: "The frame is A4."},
		Layout:  &view.Layout{Loads: 2, Copies: 3, Nested: &layout.Nested{Means: "Nested, it takes 1 sheet less."}},
		Usage:   &layout.Usage{Sheets: 1, ProcessWaste: 0.004},
		Weeding: &view.Weeding{Kept: 3, Grounds: 1, Counters: 1},
		Passes: []view.Pass{
			{Load: 1, Number: 1, Operation: artwork.Score, ForceGF: 60, SpeedMMS: 100, Passes: 1, CutMM: 120, Tested: true, Standing: &trusted},
			{Load: 1, Number: 2, Operation: artwork.ThroughCut, ForceGF: 210, SpeedMMS: 80, Passes: 1, CutMM: 20, Tested: true, TestMark: true},
			{Load: 1, Number: 3, Operation: artwork.ThroughCut, ForceGF: 210, SpeedMMS: 80, Passes: 3, CutMM: 12_345, Tested: true, Standing: &aged},
			{Load: 2, Number: 1, Operation: artwork.ThroughCut, ForceGF: 210, SpeedMMS: 80, Passes: 1, CutMM: 9_999, Tested: true},
			{Load: 3, Number: 1, Operation: artwork.Pen, ForceGF: 20, SpeedMMS: 150.5, Passes: 1, CutMM: 10_000, Standing: &trial.Standing{State: trial.Untested}},
		},
		Estimate: &estimate.Estimate{
			CutterMin: minutes(0.2, 0.3, 0.4), CutterSlotMin: 5, BenchMin: minutes(0.4, 2, 3.2), BenchSlotMin: 15,
			Loads: []estimate.LoadTime{
				{Number: 1, Prepare: minutes(1, 1, 2), Cut: minutes(10, 12, 16), Unload: minutes(1, 1, 2), Bench: minutes(2, 3, 5),
					Passes: []estimate.PassTime{{Number: 1, Minutes: minutes(0.2, 0.4, 0.9)}, {Number: 2, Minutes: minutes(1, 1, 1)}, {Number: 3, Minutes: minutes(9.6, 12, 15)}}},
				{Number: 2, Cut: minutes(0.1, 0.1, 0.2), Bench: minutes(3, 3, 3)},
			},
			Calibration: "fitted to 12 jobs", TotalText: "4.20 credit", ValidDays: 14, PriceList: "term", PriceListVersion: 3,
			Cheaper: []estimate.Cheaper{{Text: "1 copy less, saves 1 sheet"}, {Text: "4 mm narrower"}},
		},
		Findings: []finding.Finding{
			{Code: "a", Severity: finding.Mended, Number: 1, Hint: "A gap was closed."}, {Code: "b", Severity: finding.Warn, Number: 2, Hint: "Thin."},
			{Code: "c", Severity: finding.Block, Number: 3, Hint: "Off the stock."},
		},
	}
	const want = `status     ready
request    3 × pieces on Card
size       0 × 20 mm
stop       3. Off the stock.
look       2. Thin.
stock      1 sheet
nesting    Nested, it takes 1 sheet less.
test       Cut a half-moon with a keyhole in it, and score a bar to fold. The half-moon falls out without fibres, the keyhole stays, the fold does not crack.
fold       the side you drew lies up and is scored; fold away from a knife score, so that it lies on the outside.
pass       load 1, 1: score, 60 gf, 100 mm/s, 120 mm (trusted, 3 good test cuts, last 2029-01-02)
pass       load 1, 2: through cut, 210 gf, 80 mm/s, 20 mm, 1 min, a test mark
pass       load 1, 3: through cut, 210 gf, 80 mm/s, 12.3 m, 12 min (10 to 15), 3× (tested, but long ago: cut one cell again)
pass       load 2, 1: through cut, 210 gf, 80 mm/s, 9999 mm
pass       load 3, 1: pen, 20 gf, 150.5 mm/s, 10.0 m (untested: make this test cut first)
weeding    3 pieces stay; 2 openings are pushed out, of each copy
cutter     under 1 min, book 5 min
bench      up to 3 min, book 15 min
           load 1: cutter 14 min (12 to 20), bench 3 min (2 to 5)
           load 2: cutter under 1 min, bench 3 min
minutes    counted by fitted to 12 jobs
price      4.20 credit, valid for 14 days (price list term, version 3)
cheaper    1 copy less, saves 1 sheet
cheaper    4 mm narrower
evidence   The frame is A4.
mended     1. A gap was closed.
`
	if got := summed(plan.Ready, p); got != want {
		t.Errorf("the summary is\n%swant\n%s", got, want)
	}
}

// A line of a summary by what the plan has, each against its near miss; "" stands for none.
func TestLinesOfASummary(t *testing.T) {
	pass := func(op artwork.Operation) view.Pass { return view.Pass{Load: 1, Number: 1, Operation: op} }
	through, kiss, score := pass(artwork.ThroughCut), pass(artwork.KissCut), pass(artwork.Score)
	of := func(family workshop.Family, purpose string, w view.Weeding, passes ...view.Pass) view.Plan {
		return view.Plan{Request: view.Request{Copies: 1, Purpose: purpose, Family: family}, Weeding: &w, Passes: passes}
	}
	out := view.Weeding{Kept: 1, Counters: 1}
	again := of(workshop.CastFilm, "lettering", out)
	again.Request.Copies, again.Request.Again = 3, []layout.Again{{Copies: 3, Piece: 1}}
	taped := view.Plan{Layout: &view.Layout{Loads: 1}, Usage: &layout.Usage{Sheets: 2, TapeM: 0.75, TapePieces: 1, TapeStrips: 3, TapeTack: workshop.LowTack}}
	plain := view.Plan{Layout: &view.Layout{Loads: 1}, Usage: &layout.Usage{TapeM: 0.75, TapePieces: 3, TapeStrips: 3, TapeTack: workshop.LowTack}}
	nothing := view.Plan{Layout: &view.Layout{}, Usage: &layout.Usage{TapeM: 0.75}}
	wasted := view.Plan{Layout: &view.Layout{Loads: 1}, Usage: &layout.Usage{Sheets: 2, ProcessWaste: 0.005}}
	mirrored := of(workshop.LightCard, "pieces", out, score)
	mirrored.Layout, mirrored.Usage = &view.Layout{Mirrored: true}, &layout.Usage{}
	turned := mirrored
	turned.Layout = &view.Layout{}
	quick, bare := of("", "", out, through), of("", "", out, through)
	quick.Estimate = &estimate.Estimate{Loads: []estimate.LoadTime{{Number: 1, Bench: estimate.Range{High: 9}}}}
	films := view.Plan{Stack: &view.Stack{Place: 2, Meet: artwork.Whole, Films: []view.StackFilm{{Name: "Blue"}, {Name: "Red"}},
		Together: &estimate.Sum{TotalText: "9.00 credit", CutterMin: estimate.Range{Low: 4, Likely: 5, High: 7}, BenchMin: estimate.Range{High: 0.3}}}}
	for _, c := range []struct {
		label string
		plan  view.Plan
		want  string
	}{
		{"weeding", of(workshop.CastFilm, "lettering", out), "1 piece stays; 1 counter comes out"},
		{"weeding", of(workshop.HeatFilm, "lettering", view.Weeding{Kept: 1, Grounds: 2}), "1 piece stays; 2 grounds come out"},
		{"weeding", of(workshop.CastFilm, "lettering", view.Weeding{Kept: 2, ReliefLines: 2, Bridges: 1, Fragile: 1}), "2 pieces stay; 2 relief lines, 1 bridge, 1 fragile"},
		{"weeding", of(workshop.CastFilm, "lettering", out, through), "1 piece stays; 1 opening is pushed out"},
		{"weeding", of(workshop.CastFilm, "lettering", out, through, kiss), "1 piece stays; 1 counter comes out"},
		{"weeding", of(workshop.LightCard, "pieces", out, kiss), "1 piece stays; 1 counter comes out"},
		{"weeding", quick, "1 piece stays; 1 opening is pushed out"}, // and nothing of its only load
		{"weeding", of(workshop.LightCard, "pieces", view.Weeding{Counters: 2, Grounds: 1, Fragile: 2}), "3 openings are pushed out; 2 fragile"},
		{"weeding", of(workshop.StencilSheet, "stencil", out), "1 opening comes out of the sheet"},
		{"weeding", of(workshop.StencilSheet, "stencil", view.Weeding{Kept: 1, Fragile: 1}), "1 fragile"},
		{"weeding", of(workshop.StencilSheet, "stencil", view.Weeding{Kept: 1}), ""},
		{"weeding", of(workshop.LightCard, "pieces", view.Weeding{}), ""},
		{"weeding", again, "1 piece stays; 1 counter comes out"},
		{"risk", of(workshop.LightCard, "pieces", view.Weeding{Risk: "Tried."}), "Tried."},
		{"risk", of(workshop.LightCard, "pieces", out), ""},
		{"stock", taped, "2 sheets"},
		{"stock", wasted, "2 sheets, 1 % of it waste"},
		{"tape", taped, "0.75 m of tape in 1 piece, of 3 strips that overlap, low tack"},
		{"tape", plain, "0.75 m of tape in 3 pieces, low tack"},
		{"stock", nothing, ""},
		{"tape", nothing, ""},
		{"tape", wasted, ""},
		{"nesting", taped, ""},
		{"fold", mirrored, "the back lies up and is scored; fold away from a knife score, so that it lies on the outside."},
		{"fold", turned, "the side you drew lies up and is scored; fold away from a knife score, so that it lies on the outside."},
		{"fold", quick, ""},
		{"mirrored", mirrored, "It is cut mirrored: letters read backwards on the screen and on the stock."},
		{"mirrored", turned, ""},
		{"test", quick, "Cut a half-moon with a keyhole in it. The half-moon falls out without fibres, the keyhole stays."},
		{"test", of("", "", out, kiss, score), "Cut a half-moon with a keyhole in it. The half-moon lifts, the keyhole stays, the liner is marked and not cut."},
		{"test", taped, ""},
		{"cutter", quick, ""},
		{"minutes", quick, ""},
		{"price", bare, ""},
		{"size", bare, ""},
		{"evidence", bare, ""},
		{"films", bare, ""},
		{"films", films, "1. Blue; 2. Red (this plan)\n           2 films together: 9.00 credit; cutter 5 min (4 to 7), bench under 1 min.\n" +
			"           Lower films go on wholly under those on them.\n           Put this film up last, each register mark on the one below; then take all marks off."},
	} {
		got, label := "", c.label+strings.Repeat(" ", 11-len(c.label))
		for line := range strings.Lines(summed(plan.Ready, &c.plan)) {
			if strings.HasPrefix(line, label) || got != "" && strings.HasPrefix(line, strings.Repeat(" ", 11)) {
				got += line
			} else if got != "" {
				break
			}
		}
		if want := label + c.want + "\n"; got != want && (c.want != "" || got != "") {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Of card, paper, magnetic and stencil sheet openings are pushed out before it is known how
// it is cut; films are peeled.
func TestSummaryPushesOutByMaterial(t *testing.T) {
	for family, pushed := range map[workshop.Family]bool{
		workshop.Paper: true, workshop.LightCard: true, workshop.HeavyCard: true, workshop.StencilSheet: true, workshop.MagneticSheet: true,
		workshop.RemovableFilm: false, workshop.PermanentFilm: false, workshop.CastFilm: false, workshop.HeatFilm: false, workshop.StencilFilm: false, workshop.BlastingMask: false,
	} {
		p := view.Plan{Request: view.Request{Copies: 1, Purpose: "pieces", Family: family}, Weeding: &view.Weeding{Kept: 1, Counters: 1}}
		if got := strings.Contains(summed(plan.Ready, &p), "1 opening is pushed out"); got != pushed {
			t.Errorf("of %s an opening is pushed out: %v", family, got)
		}
	}
}

// What is asked about is no fault yet: its finding says so, whether a question or a part of
// one is open, but for what was mended all the same.
func TestTextOfFindingsInQuestion(t *testing.T) {
	p := &view.Plan{
		Questions: []ask.Question{{ID: "size/unit", Code: "unit", Text: "Are these mm?", Parts: []ask.Question{{ID: "size/unit:1", Code: "scale", Text: "the first"}}}},
		Findings: []finding.Finding{
			{Code: "unit", Severity: finding.Ask, Number: 1, Hint: "Change the unit."}, {Code: "scale", Severity: finding.Warn, Number: 2, Hint: "Change the scale."},
			{Code: "scale", Severity: finding.Mended, Number: 3, Hint: "Scaled.", Mend: &finding.Mend{Applied: true}},
			{Code: "unit", Severity: finding.Warn, Number: 4, Hint: "Could be mended.", Mend: &finding.Mend{}}, {Code: "thin", Severity: finding.Ask, Number: 5, Hint: "Thin."},
		},
	}
	const want = `status     asking
question   Are these mm? (id size/unit)
           or alone: the first (id size/unit:1)
request    0 ×  on
asked      1. Please answer the question about it, above.
look       2. Please answer the question about it, above.
look       4. Please answer the question about it, above.
asked      5. Thin.
mended     3. Scaled.
`
	if got := summed(plan.Asking, p); got != want {
		t.Errorf("the summary is\n%swant\n%s", got, want)
	}
}
