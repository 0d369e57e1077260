package view_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// ofDigests are parts that say no more than their digests.
func ofDigests(all ...view.Digest) (parts []view.Part) {
	for _, d := range all {
		parts = append(parts, view.Part{Digest: d})
	}
	return parts
}

// Of each job the view has what it says, and of the request the choices.
func TestGatherTakesWhatEachJobSays(t *testing.T) {
	request := &plan.Request{
		Stock: workshop.Stock{ID: "s", Name: "Card", Family: workshop.LightCard, Form: workshop.Sheet}, Machine: workshop.Machine{ID: "m"}, Convention: workshop.Convention{ID: "c"},
		Purpose: weeding.Pieces, Copies: 3, Again: []layout.Again{{Copies: 3}}, Replies: ask.Replies{"size/unit": {Answer: "mm"}},
		Standings: map[string]trial.Standing{"one": {State: trial.Trusted, Good: 3}, "two": {State: trial.Untested}},
	}
	usage, price := &layout.Usage{Sheets: 2}, &estimate.Estimate{TotalText: "4.20 credit"}
	passes := []view.Pass{{Setting: "one"}, {Setting: "two", Tested: true}, {Setting: "three", Tested: true}}
	got := view.Gather(plan.Working, request, []view.Progress{{Job: "size", State: view.Done}}, ofDigests(
		view.Digest{Size: &view.Size{WidthMM: 80, HeightMM: 50, X: 0.5, Y: 0.25}},
		view.Digest{Stack: &view.Stack{Place: 1}, Scale: 2, Made: &[2]float64{90, 50.04}},
		view.Digest{Weeding: &view.Weeding{Kept: 1, Effort: weeding.Effort{StartS: 30, CopyS: 10}}},
		view.Digest{Layout: &view.Layout{Loads: 2}, Usage: usage},
		view.Digest{Passes: passes, Loads: 2}, view.Digest{Estimate: price},
	))
	want := &view.Plan{
		Request:  view.Request{Stock: "s", StockName: "Card", Family: workshop.LightCard, Form: workshop.Sheet, Machine: "m", Convention: "c", Purpose: "pieces", Copies: 3, Again: request.Again},
		Answers:  request.Replies,
		Progress: []view.Progress{{Job: "size", State: view.Done}},
		Size:     &view.Size{WidthMM: 90, HeightMM: 50.04, X: 1, Y: 0.5}, // both are told where one differs
		Stack:    &view.Stack{Place: 1}, Layout: &view.Layout{Loads: 2}, Usage: usage, Loads: 2, Estimate: price,
		Weeding: &view.Weeding{Kept: 1, Effort: weeding.Effort{StartS: 30, CopyS: 10}, BenchS: 60}, // 30 + 3 · 10
		Passes: []view.Pass{
			{Setting: "one", Tested: true, Standing: &trial.Standing{State: trial.Trusted, Good: 3}}, {Setting: "two", Standing: &trial.Standing{State: trial.Untested}},
			{Setting: "three", Tested: true},
		},
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("the view is another:\n%s", diff)
	}
	if passes[0].Standing != nil || !passes[1].Tested {
		t.Error("the digest of the passes was changed")
	}
	if !got.Has("size") || got.Has("layout") || (&view.Plan{Progress: []view.Progress{{Job: "size", State: view.Working}}}).Has("size") {
		t.Error("what is done is told otherwise")
	}
}

// What is made is told in place of what was measured from a tenth of a millimetre on, which
// half of it makes, to either side and along either axis.
func TestMadeSizeIsTold(t *testing.T) {
	for made, told := range map[[2]float64]bool{
		{80.04, 50.04}: false, {80.06, 50}: true, {80, 50.06}: true, {79.94, 50}: true, {80, 49.94}: true, {79.96, 49.96}: false,
	} {
		p := view.Gather(plan.Working, &plan.Request{}, nil, ofDigests(view.Digest{Size: &view.Size{WidthMM: 80, HeightMM: 50, X: 1, Y: 1}}, view.Digest{Made: &made}))
		want := view.Size{WidthMM: 80, HeightMM: 50, X: 1, Y: 1}
		if told {
			want.WidthMM, want.HeightMM = made[0], made[1]
		}
		if *p.Size != want {
			t.Errorf("made %v it is told as %+v", made, *p.Size)
		}
	}
	if p := view.Gather(plan.Working, &plan.Request{}, nil, ofDigests(view.Digest{Made: &[2]float64{1, 1}})); p.Size != nil {
		t.Errorf("of a size that is not known %+v is told", p.Size)
	}
}

// The bench seconds are those of all copies on one load, of a load that several share of all
// that lies there, and by the times that a workshop fitted. By hand: 10 + 3 · (100 · 2 + 5 +
// 2 · 3 + 2) = 649, and twice that for a novice.
func TestGatherCountsTheBench(t *testing.T) {
	effort := weeding.Effort{KeptContourM: 2, Grounds: 1, Counters: 2, Fragile: 1, StartS: 30, CopyS: 10}
	fitted := &calibration.Calibration{Bench: &calibration.Fit{Values: []float64{10, 100, 5, 3, 2}}}
	for _, c := range []struct {
		request plan.Request
		layout  *view.Layout
		want    float64
	}{
		{plan.Request{Copies: 3}, nil, 60}, {plan.Request{Copies: 3}, &view.Layout{}, 60}, {plan.Request{Copies: 3}, &view.Layout{Shared: true}, 40},
		{plan.Request{Copies: 3, Calibration: fitted}, nil, 649}, {plan.Request{Copies: 3, Calibration: fitted, Options: plan.Options{Novice: true}}, nil, 1298},
		{plan.Request{Copies: 3, Calibration: &calibration.Calibration{}}, nil, 60}, {plan.Request{Copies: 3, Calibration: fitted}, &view.Layout{Shared: true}, 223},
	} {
		digest := &view.Weeding{Effort: effort}
		p := view.Gather(plan.Ready, &c.request, nil, ofDigests(view.Digest{Weeding: digest}, view.Digest{Layout: c.layout}))
		if p.Weeding.BenchS != c.want || digest.BenchS != 0 || digest.Effort.CopyS != 10 {
			t.Errorf("%+v on %+v: %g s at the bench, want %g", c.request.Options, c.layout, p.Weeding.BenchS, c.want)
		}
	}
}

// Questions are those of a plan that asks, and of no other.
func TestGatherAsksWhereThePlanDoes(t *testing.T) {
	parts := []view.Part{{Questions: []ask.Question{{ID: "one"}}}}
	for status, asks := range map[plan.Status]bool{plan.Asking: true, plan.Ready: false, plan.Working: false, plan.Refused: false, plan.Cancelled: false, plan.Failed: false} {
		if p := view.Gather(status, &plan.Request{}, nil, parts); (len(p.Questions) == 1) != asks {
			t.Errorf("%s: %d questions", status, len(p.Questions))
		}
	}
}

// A place in the drawing is told on the artwork: by its unit, else by the size's own map, times
// what the artwork was multiplied by, from the artwork's corner. By hand, of a point at (2, 3).
func TestPlacesByWhatIsKnown(t *testing.T) {
	inch, onto := view.Digest{UnitMM: 25.4}, view.Digest{Transform: &geometry.Affine{A: 2, D: 4, E: 1}}
	placed := view.Digest{Scale: 3, Origin: &geometry.Point{X: 5, Y: 7}}
	for _, c := range []struct {
		digests []view.Digest
		want    geometry.Point
	}{
		{nil, geometry.Pt(2, 3)}, {[]view.Digest{inch}, geometry.Pt(50.8, 76.2)}, {[]view.Digest{inch, onto}, geometry.Pt(5, 12)},
		{[]view.Digest{inch, {Transform: &geometry.Affine{}}}, geometry.Pt(50.8, 76.2)}, {[]view.Digest{inch, onto, placed}, geometry.Pt(10, 29)},
		{[]view.Digest{inch, onto, {Scale: 3}}, geometry.Pt(15, 36)}, {[]view.Digest{onto, {Origin: placed.Origin}}, geometry.Pt(0, 5)},
	} {
		at := func() finding.Place { return finding.Place{Box: geometry.BoxAround(geometry.Pt(2, 3))} }
		in := view.Part{Digest: view.Digest{InDrawing: true}, Findings: []finding.Finding{{Places: []finding.Place{at()}}}, Questions: []ask.Question{{Places: []finding.Place{at()}}}}
		out := view.Part{Findings: []finding.Finding{{Places: []finding.Place{at()}}}, Questions: []ask.Question{{Places: []finding.Place{at()}}}}
		fs, qs := view.Outcome(append(ofDigests(c.digests...), in, out))
		for what, moved := range map[string]geometry.Point{"finding": fs[0].Places[0].Box.Min, "question": qs[0].Places[0].Box.Min} {
			if moved.Dist(c.want) > 1e-9 {
				t.Errorf("%+v: a %s is told at %v, want %v", c.digests, what, moved, c.want)
			}
		}
		if fs[1].Places[0].Box.Min != geometry.Pt(2, 3) || qs[1].Places[0].Box.Min != geometry.Pt(2, 3) || in.Findings[0].Places[0].Box.Min != geometry.Pt(2, 3) {
			t.Errorf("%+v: what is told on the artwork was moved, or the job's own", c.digests)
		}
		if fs[0].Number != 1 || fs[1].Number != 2 {
			t.Errorf("the findings are numbered %d, %d", fs[0].Number, fs[1].Number)
		}
	}
}

// A job that begins is worked on, and says how far it is where that is known.
func TestBegin(t *testing.T) {
	half := 0.5
	states := []view.JobState{view.Done, view.Queued, view.Working, view.Waiting, view.Failed}
	for _, share := range []*float64{nil, &half} {
		p := &view.Plan{}
		for _, s := range states {
			p.Progress = append(p.Progress, view.Progress{State: s, Share: 0.25})
		}
		p.Begin(share)
		now := 0.25
		if share != nil {
			now = half
		}
		want := []view.Progress{{State: view.Done, Share: 0.25}, {State: view.Working, Share: now}, {State: view.Working, Share: now}, {State: view.Waiting, Share: 0.25}, {State: view.Failed, Share: 0.25}}
		if diff := cmp.Diff(want, p.Progress); diff != "" {
			t.Errorf("begun: %s", diff)
		}
	}
}

// Counts of a later job take the place of those before, but for what it does not count.
func TestCountsWith(t *testing.T) {
	first := view.Counts{Bytes: 1, Segments: 2, Strokes: 3, Copies: 4}
	for _, c := range []struct{ other, want view.Counts }{
		{view.Counts{}, first}, {view.Counts{Bytes: 9}, view.Counts{Bytes: 9, Segments: 2, Strokes: 3, Copies: 4}}, {view.Counts{Segments: 1}, view.Counts{Bytes: 1, Segments: 1, Strokes: 3, Copies: 4}},
		{view.Counts{Strokes: 8, Copies: 1}, view.Counts{Bytes: 1, Segments: 2, Strokes: 8, Copies: 1}},
	} {
		if got := first.With(c.other); got != c.want {
			t.Errorf("with %+v it is %+v, want %+v", c.other, got, c.want)
		}
	}
}

// The digest of a weeding map counts its regions by their class, and what was added; that of
// loads with maps of their own is the sum.
func TestDigestOfWeedingMaps(t *testing.T) {
	square := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(9, 9)).Path()
	region := func(c weeding.Class, fragile bool) weeding.Region {
		return weeding.Region{Class: c, Fragile: fragile, Outer: square}
	}
	m := &weeding.Map{
		Risk: "tried", Effort: weeding.Effort{CopyS: 10, StartS: 30}, Bridges: []geometry.Path{square, square}, Findings: []finding.Finding{{Code: finding.IslandBridged}},
		Regions: []weeding.Region{
			region(weeding.Kept, true), region(weeding.Kept, true), region(weeding.Kept, false), region(weeding.Kept, false),
			region(weeding.Surround, false), region(weeding.Ground, false), region(weeding.Ground, false), region(weeding.Ground, false),
			region(weeding.Counter, false), region(weeding.Counter, false), region(weeding.Counter, false), region(weeding.Counter, false), region(weeding.Counter, false),
		},
		Strokes: []artwork.Stroke{{Path: square}, {Path: square, Added: artwork.Relief}, {Path: square, Added: artwork.Relief}, {Path: square, Added: artwork.Border}},
	}
	want := &view.Weeding{Kept: 4, Surrounds: 1, Grounds: 3, Counters: 5, Fragile: 2, ReliefLines: 2, Bridges: 2, Risk: "tried", Effort: m.Effort}
	d := view.OfWeeding(m)
	if diff := cmp.Diff(want, d.Weeding); diff != "" || d.Counts != (view.Counts{Strokes: 4}) {
		t.Errorf("%+v, %s", d.Counts, diff)
	}
	other := &weeding.Map{Regions: []weeding.Region{region(weeding.Kept, true), region(weeding.Surround, false), region(weeding.Ground, false), region(weeding.Counter, false)}, Effort: weeding.Effort{CopyS: 1, StartS: 30}}
	l := &layout.Layout{Maps: []*weeding.Map{m, other}, Usage: layout.Usage{Sheets: 7}, Mirrored: true, Loads: []layout.Load{
		{Places: make([]layout.MemberPlace, 3), Placements: make([]layout.Placement, 1)}, {Places: make([]layout.MemberPlace, 2), Placements: make([]layout.Placement, 1)},
	}}
	whole := view.OfLayout(l)
	want = &view.Weeding{Kept: 5, Surrounds: 2, Grounds: 4, Counters: 6, Fragile: 3, ReliefLines: 2, Bridges: 2, Risk: "tried", Effort: weeding.Effort{CopyS: 11, StartS: 30}}
	if diff := cmp.Diff(want, whole.Weeding); diff != "" {
		t.Errorf("of two maps: %s", diff)
	}
	if got := (view.Layout{Loads: 2, Copies: 5, Shared: true, Mirrored: true}); *whole.Layout != got || whole.Usage != &l.Usage {
		t.Errorf("of shared loads: %+v", *whole.Layout)
	}
	l.Panels = &layout.Panels{List: make([]layout.Panel, 2)}
	l.Loads[0].Placements, l.Loads[1].Placements = make([]layout.Placement, 3), make([]layout.Placement, 3)
	if got, want := *view.OfLayout(l).Layout, (view.Layout{Loads: 2, Panels: 2, Copies: 3, Mirrored: true}); got != want {
		t.Errorf("of panels: %+v, want %+v", got, want)
	}
	if d := view.OfLayout(&layout.Layout{}); d.Weeding != nil {
		t.Errorf("of no map: %+v", d.Weeding)
	}
}
