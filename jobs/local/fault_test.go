package local_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// fault is a row of the fault table of the design notes: a drawing that
// triggers it and a near miss that does not, each as the bytes that are sent.
// The limits are those of the table (common practice, no source).
type fault struct {
	name       string
	with, near string
	choices    plan.Choices
	nearChoice *plan.Choices        // nil: choices
	edit       func(*workshop.Data) // of the example data, for with alone
	measured   *trial.Marks         // of a test cut, for with alone
	code       finding.Code
	severity   finding.Severity
	count      int
	at         string // "x y x y": the box of the first place; empty: the fault has no place
	asks       string // ID of the question that decides it
	mend       string // ID of the mend that was made
}

// run is what became of a drawing.
type run struct {
	results   jobs.Results
	findings  []finding.Finding
	questions []ask.Question
	last      string // the job that asked or blocked, "" where all went through
}

// desk is what a drawing is sent to: the workshop's data and what was chosen.
type desk struct {
	data    workshop.Data
	choices plan.Choices
}

// run sends a drawing through the jobs until one asks or blocks.
func (d desk) run(t testing.TB, file string) run {
	t.Helper()
	return d.runOn(t, file, nil)
}

// runOn is run where marks of a test cut were measured; nil: none were.
func (d desk) runOn(t testing.TB, file string, measured *trial.Marks) run {
	t.Helper()
	req, err := list.Choose(d.data, d.choices)
	if err != nil {
		t.Fatal(err)
	}
	req.Lengths = measured
	r := run{results: jobs.Results{}}
	err = stepsOf([]byte(file), req).each(func(name string, res jobs.Result) bool {
		r.results[name] = res
		fs, qs := res.Outcome()
		switch res := res.(type) {
		case *read.Result:
			fs = inMM(fs, geometry.Scale(res.Unit.MM, res.Unit.MM))
		case *size.Result:
			fs = inMM(fs, res.Transform)
		}
		r.findings, r.questions = append(r.findings, fs...), append(r.questions, qs...)
		if len(qs) > 0 || finding.Worst(fs) == finding.Block {
			r.last = name
		}
		return r.last == ""
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// inMM returns findings with their places, which the first jobs give in drawing
// units, in mm.
func inMM(fs []finding.Finding, m geometry.Affine) []finding.Finding {
	fs = slices.Clone(fs)
	for i := range fs {
		fs[i].Places = finding.Moved(fs[i].Places, m)
	}
	return fs
}

func (r run) find(code finding.Code) *finding.Finding {
	for i := range r.findings {
		if r.findings[i].Code == code {
			return &r.findings[i]
		}
	}
	return nil
}

func (r run) question(id string) *ask.Question {
	all := ask.All(r.questions)
	for i := range all {
		if all[i].ID == id {
			return &all[i]
		}
	}
	return nil
}

// String says what became of a drawing, for messages.
func (r run) String() string {
	var b strings.Builder
	for _, f := range r.findings {
		fmt.Fprintf(&b, "\n  %s %s ×%d %v", f.Severity, f.Code, f.Count, boxes(f.Places))
	}
	for _, q := range r.questions {
		fmt.Fprintf(&b, "\n  asks %s", q.ID)
	}
	fmt.Fprintf(&b, "\n  ends at %q", r.last)
	return b.String()
}

func boxes(places []finding.Place) []string {
	var all []string
	for _, p := range places {
		if p.Nowhere() {
			all = append(all, p.Source)
			continue
		}
		all = append(all, fmt.Sprintf("%.5g %.5g %.5g %.5g", p.Box.Min.X, p.Box.Min.Y, p.Box.Max.X, p.Box.Max.Y))
	}
	return all
}

// desk returns what the drawing of the row is sent to.
func (row *fault) desk() desk {
	d := desk{workshop.Example(), row.choices}
	if row.edit != nil {
		row.edit(&d.data)
	}
	return d
}

// faults are all rows.
func faults() []fault {
	return slices.Concat(sizeFaults(), frameFaults(), readFaults(), hostileFaults(), lineFaults(), meaningFaults(), weedingFaults(), machineFaults())
}

// Every fault of the table is found where it is, as grave as it is, and only
// where it is: its near miss goes through all jobs without it.
func TestFaults(t *testing.T) {
	for _, row := range faults() {
		t.Run(row.name, func(t *testing.T) {
			got := row.desk().runOn(t, row.with, row.measured)
			f := got.find(row.code)
			if f == nil {
				t.Fatalf("no %s:%s", row.code, got)
			}
			if f.Severity != row.severity || f.Count != row.count {
				t.Errorf("%s %d times, want %s %d times:%s", f.Severity, f.Count, row.severity, row.count, got)
			}
			if !placed(f.Places, row.at) {
				t.Errorf("at %q, want %q", boxes(f.Places), row.at)
			}
			checkStop(t, &row, f, got)
			near := desk{workshop.Example(), row.choices}
			if row.nearChoice != nil {
				near.choices = *row.nearChoice
			}
			if miss := near.run(t, row.near); miss.find(row.code) != nil || miss.last != "" {
				t.Errorf("the near miss:%s", miss)
			}
		})
	}
}

// checkStop holds what a fault stops: a question for what only a person can
// decide, a mend that can be named and switched off for what was mended.
func checkStop(t *testing.T, row *fault, f *finding.Finding, got run) {
	t.Helper()
	q := got.question(row.asks)
	switch {
	case row.asks == "" && row.severity == finding.Ask:
		t.Errorf("asked about by no question:%s", got)
	case row.asks != "" && (q == nil || got.find(q.Code) == nil):
		t.Errorf("no question %s:%s", row.asks, got)
	case q != nil && (len(q.Answers) < 2 || q.Text == ""):
		t.Errorf("the question leaves no choice: %+v", q)
	}
	if row.mend == "" {
		return
	}
	if f.Mend == nil || f.Mend.ID != row.mend || f.Mend.Applied != (row.severity == finding.Mended) || f.Mend.Effect == "" {
		t.Errorf("mend %+v, want %s", f.Mend, row.mend)
	}
}

// placed reports whether the first place is the box "x y x y", to 0.02 mm.
func placed(places []finding.Place, at string) bool {
	if nowhere := len(places) == 0 || places[0].Nowhere(); at == "" || nowhere {
		return at == "" && nowhere
	}
	var want geometry.Box
	if _, err := fmt.Sscan(at, &want.Min.X, &want.Min.Y, &want.Max.X, &want.Max.Y); err != nil {
		return false
	}
	got := places[0].Box
	return got.Min.Dist(want.Min) <= 0.02*math.Sqrt2 && got.Max.Dist(want.Max) <= 0.02*math.Sqrt2
}
