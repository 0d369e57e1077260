package main

import (
	"strings"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/view"
)

// The demo says of each plan what is not as it should be: one thing at a time is
// spoiled here, and it alone is named.
func TestDeviations(t *testing.T) {
	k := scenario.Case{
		Answers: []scenario.Answer{{Question: "artwork/gaps"}},
		Want: scenario.Want{Status: "ready", WidthMM: 60, HeightMM: 40, Cause: "points_read_as_mm", Findings: []string{"gap_closed"},
			Sheets: 2, RollMM: 150, Kept: 3, Counters: 1, Bridges: 4},
	}
	for _, c := range []struct {
		name  string
		spoil func(k *scenario.Case, p *planBody)
		says  string // empty: nothing
	}{
		{"as it should be", func(*scenario.Case, *planBody) {}, ""},
		{"0.005 mm off", func(_ *scenario.Case, p *planBody) { p.Size.WidthMM += 0.005 }, ""},
		{"another status", func(_ *scenario.Case, p *planBody) { p.Status = "asking" }, "status asking, expected ready"},
		{"a question more", func(k *scenario.Case, _ *planBody) { k.Answers = nil }, "asked 1 questions, expected 0"},
		{"no finding", func(_ *scenario.Case, p *planBody) { p.Findings = nil }, "no finding gap_closed"},
		{"no size", func(_ *scenario.Case, p *planBody) { p.Size = nil }, "no size"},
		{"wider", func(_ *scenario.Case, p *planBody) { p.Size.WidthMM += 0.02 }, "60.020 × 40.000 mm, expected 60 × 40"},
		{"lower", func(_ *scenario.Case, p *planBody) { p.Size.HeightMM -= 0.02 }, "60.000 × 39.980 mm, expected 60 × 40"},
		{"another cause", func(_ *scenario.Case, p *planBody) { p.Size.Cause = "as_drawn" }, "cause as_drawn, expected points_read_as_mm"},
		{"a sheet more", func(_ *scenario.Case, p *planBody) { p.Usage.Sheets = 3 }, "3 sheets, expected 2"},
		{"more film", func(_ *scenario.Case, p *planBody) { p.Usage.RollMM = 151 }, "151.0 mm of roll, expected 150"},
		{"a region less", func(_ *scenario.Case, p *planBody) { p.Weeding.Kept = 2 }, "2 kept regions, expected 3"},
		{"a counter more", func(_ *scenario.Case, p *planBody) { p.Weeding.Counters = 2 }, "2 counters, expected 1"},
		{"no bridges", func(_ *scenario.Case, p *planBody) { p.Weeding.Bridges = 0 }, "0 bridges, expected 4"},
		{"no price", func(_ *scenario.Case, p *planBody) { p.Estimate = nil }, "no price"},
		{"nothing to pay", func(_ *scenario.Case, p *planBody) { p.Estimate.TotalMinor = 0 }, "no price"},
		{"no cautions", func(_ *scenario.Case, p *planBody) { p.Cautions = nil }, "no cautions"},
	} {
		k, p := k, &planBody{
			Status: "ready", Questions: []ask.Question{}, Findings: []finding.Finding{{Code: "gap_closed"}},
			Size:    &view.Size{WidthMM: 60, HeightMM: 40, Cause: "points_read_as_mm"},
			Weeding: &view.Weeding{Kept: 3, Counters: 1, Bridges: 4}, Usage: &layout.Usage{Sheets: 2, RollMM: 150},
			Estimate: &estimate.Estimate{TotalMinor: 120}, Cautions: []string{"Cap the blade."},
		}
		c.spoil(&k, p)
		got := deviations(k, p, []string{"artwork/gaps"})
		if c.says == "" && len(got) > 0 || c.says != "" && (len(got) != 1 || !strings.HasPrefix(got[0], c.says)) {
			t.Errorf("%s: %q, want %q alone", c.name, got, c.says)
		}
	}
}
