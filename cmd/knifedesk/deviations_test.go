package main

import (
	"encoding/json"
	"fmt"
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

// The class set of the demo is as it should be where those with a fault are told what to
// change, and all others are ready: one thing at a time is spoiled here.
func TestDeviationOfTheClassSet(t *testing.T) {
	tags := make([]scenario.Tag, 30)
	for i := range 5 {
		tags[6*i].Fault = scenario.FaultOpen
	}
	member := func(status, changes string) string {
		return `{"reference":"tag","status":"` + status + `","changes":[` + changes + `]}`
	}
	const change = `{"text":"Close it."}`
	for _, c := range []struct {
		name    string
		at      int // the member that is spoiled
		as      string
		answer  string
		asking  int
		loads   string
		deviate bool
	}{
		{"as it should be", 0, member("refused", change), "Yes: it is done in time.", 2, `{"number":1}`, false},
		{"a fault that asks", 0, member("asking", change), "Yes: it is done in time.", 2, `{"number":1}`, false},
		{"a fault passes", 0, member("ready", change), "Yes: it is done in time.", 2, `{"number":1}`, true},
		{"a fault with nothing to do", 0, member("refused", ""), "Yes: it is done in time.", 2, `{"number":1}`, true},
		{"a sound one is refused", 1, member("refused", change), "Yes: it is done in time.", 2, `{"number":1}`, true},
		{"it does not fit into the lesson", 0, member("refused", change), "No: it takes longer.", 2, `{"number":1}`, true},
		{"too few ask", 0, member("refused", change), "Yes: it is done in time.", 1, `{"number":1}`, true},
		{"nothing is laid", 0, member("refused", change), "Yes: it is done in time.", 2, "", true},
	} {
		members := make([]string, 30)
		for i := range members {
			members[i] = member("ready", "")
			if tags[i].Fault != "" {
				members[i] = member("refused", change)
			}
		}
		members[c.at] = c.as
		var s classBody
		text := fmt.Sprintf(`{"answer":%q,"roster":{"of":30,"ready":25,"asking":%d,"refused":3},"members":[%s],"loads":[%s]}`, c.answer, c.asking, strings.Join(members, ","), c.loads)
		if err := json.Unmarshal([]byte(text), &s); err != nil {
			t.Fatal(err)
		}
		if err := s.deviation(tags); (err != nil) != c.deviate {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// The table of the demo has a cell for each head, what is not known yet as "-".
func TestRowOfTheDemo(t *testing.T) {
	done := &planBody{
		Status: "ready", Size: &view.Size{WidthMM: 60, HeightMM: 40.25, Cause: "points_read_as_mm"}, Usage: &layout.Usage{Sheets: 2},
		Estimate: &estimate.Estimate{TotalText: "£1.20", CutterMin: estimate.Range{Low: 1, Likely: 2.24, High: 4}, BenchMin: estimate.Range{Low: 5, Likely: 6.26, High: 9}},
	}
	one, roll, none := *done, *done, *done
	one.Usage, roll.Usage, none.Usage = &layout.Usage{Sheets: 1}, &layout.Usage{RollMM: 149.6}, &layout.Usage{}
	for _, c := range []struct {
		p     *planBody
		asked []string
		want  string
	}{
		{done, []string{"a=b", "c=d"}, "tag|ready|60.00 × 40.25|points_read_as_mm|a=b, c=d|2 sheets|2.2 min|6.3 min|£1.20|"},
		{&one, nil, "tag|ready|60.00 × 40.25|points_read_as_mm|none|1 sheet|2.2 min|6.3 min|£1.20|"},
		{&roll, nil, "tag|ready|60.00 × 40.25|points_read_as_mm|none|150 mm of roll|2.2 min|6.3 min|£1.20|"},
		{&none, nil, "tag|ready|60.00 × 40.25|points_read_as_mm|none|-|2.2 min|6.3 min|£1.20|"},
		{&planBody{Status: "refused"}, nil, "tag|refused|-|-|none|-|-|-|-|"},
	} {
		got := row(scenario.Case{Name: "tag"}, c.p, c.asked)
		if strings.Join(got, "|") != c.want || len(got) != len(heads)+1 {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// An answer of the demo is given to the question that it is for, the first where it names
// none; what is not asked or not offered is said with what is.
func TestAnswersOfTheDemo(t *testing.T) {
	p := &planBody{Questions: []ask.Question{
		{ID: "size/true_size", Answers: []ask.Answer{{ID: "a4"}, {ID: "a3"}}}, {ID: "artwork/gaps", Answers: []ask.Answer{{ID: "close"}, {ID: "leave"}}},
	}}
	for _, c := range []struct{ question, choose, want, err string }{
		{"artwork/gaps", "leave", "artwork/gaps=leave", ""}, {"artwork/gaps", "", "artwork/gaps=close", ""}, {"size/true_size", "a3", "size/true_size=a3", ""},
		{"artwork/gaps", "a3", "=", `question artwork/gaps offers no answer "a3"`},
		{"weeding/regions", "", "=", `question "weeding/regions" is not asked but size/true_size, artwork/gaps`},
	} {
		question, answer, err := choose(p, scenario.Answer{Question: c.question, Choose: c.choose})
		if question+"="+answer != c.want || (err == nil) != (c.err == "") || err != nil && err.Error() != c.err {
			t.Errorf("%s, %s: %s=%s, %v", c.question, c.choose, question, answer, err)
		}
	}
}
