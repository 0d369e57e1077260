package api_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"knifedesk/api"
	"knifedesk/jobs/layout"
)

// chevrons is a drawing of one chevron on the layer for cutting.
const chevrons = `<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="180mm" viewBox="0 0 180 180">` +
	`<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1"><path d="M10 70 L130 10 H170 L50 70 L170 170 H130 Z"/></g></svg>`

// A caller who asks for nesting gets less film, is told how much less, and sees the
// copies where they lie.
func TestNestingIsAsked(t *testing.T) {
	d := open(t)
	fields := []string{"stock", "film-removable-610", "copies", "4", "options"}
	rows := d.submit(t, "chevron.svg", []byte(chevrons), append(fields, `{"no_border":true,"nesting":"rows"}`)...)
	nested := d.submit(t, "chevron.svg", []byte(chevrons), append(fields, `{"no_border":true,"nesting":"quick"}`)...)
	if rows.Usage == nil || nested.Usage == nil || !(nested.Usage.RollMM < rows.Usage.RollMM-160) {
		t.Fatalf("%+v of film, and %+v in rows", nested.Usage, rows.Usage)
	}
	if rows.Layout.Nested != nil || nested.Layout.Nested == nil || !strings.Contains(nested.Layout.Nested.Means, "less than in rows") {
		t.Errorf("told %+v, and %+v of rows", nested.Layout.Nested, rows.Layout.Nested)
	}
	var part api.Layout
	d.call(t, http.MethodGet, nested.Links["layout"], nil).json(t, &part)
	if n := part.Nested; n == nil || !n.Better || n.Effort != api.NestingQuick || n.SavedMM < 160 || len(part.Loads[0].Placements) != 4 {
		t.Errorf("%+v", part)
	}
	if a := d.call(t, http.MethodGet, nested.Links["layout_preview"], nil); !strings.Contains(string(a.body), "what is kept of a copy") {
		t.Error("the picture shows rectangles")
	}
}

// Of a long nesting events and plan say how far it is, and it stops once nobody wants it.
func TestNestingTellsHowFarItIs(t *testing.T) {
	d := open(t)
	body, kind := form(t, "chevron.svg", []byte(chevrons), "stock", "film-removable-610", "copies", "60", "options", `{"no_border":true,"nesting":"normal"}`)
	var p api.Plan
	d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind).json(t, &p)
	share := func(all []api.StageProgress) float64 {
		for _, s := range all {
			switch {
			case s.Stage == "layout" && s.State == api.StageProgressStateWorking:
				return s.Share
			case s.Share != 0:
				t.Errorf("%s of %s is %g", s.State, s.Stage, s.Share)
			}
		}
		return 0
	}
	late := time.AfterFunc(2*time.Minute, func() { d.call(t, http.MethodDelete, p.Links["self"], nil) }) // where nothing is told it ends here
	defer late.Stop()
	told := 0.0
	for event := range d.readEvents(t, p.Links["self"]+"/events") {
		_, data, found := strings.Cut(event, "data: ")
		if !found {
			continue // the stream is still there
		}
		now := d.progress(t, data)
		if told == 0 {
			if told = share(now.Progress); told > 0 {
				if seen := share(d.plan(t, p.ID.String()).Progress); seen < told || told >= 1 {
					t.Errorf("an event tells %g, and the plan %g", told, seen)
				}
				d.call(t, http.MethodDelete, p.Links["self"], nil)
			}
		}
	}
	if after := d.plan(t, p.ID.String()); told == 0 || after.Status != api.PlanStatusCancelled || share(after.Progress) != 0 {
		t.Errorf("told %g, %s, %v", told, after.Status, after.Progress)
	}
}

// The specification takes the ways to lay copies that the layout knows, and no others.
func TestNestingsAreThoseOfTheLayout(t *testing.T) {
	spec, err := specOnce()
	if err != nil {
		t.Fatal(err)
	}
	taken := spec.Components.Schemas["Nesting"].Value.Enum
	if len(taken) != len(layout.Nestings()) {
		t.Errorf("taken are %v", taken)
	}
	for i, n := range layout.Nestings() {
		if taken[i] != string(n) {
			t.Errorf("%v is taken, and %s known", taken[i], n)
		}
	}
}
