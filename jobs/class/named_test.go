package class_test

import (
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/class"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// A set in which there is one of everything is told to the letter: who has to do something
// first, each with all that it is, then what to look at, each thing once.
func TestTextOfAllThatMayBeWrong(t *testing.T) {
	block := func(hint string) finding.Finding { return finding.Finding{Severity: finding.Block, Hint: hint} }
	warn := func(hint string) finding.Finding { return finding.Finding{Severity: finding.Warn, Hint: hint} }
	asks := []ask.Question{{ID: "size/frame", Text: "Is the frame A4?"}, {ID: "size/unit", Text: "Are these mm?"}}
	open := finding.Finding{Severity: finding.Ask, Hint: "Is it open?"}
	s := class.Set{Roster: []string{"ash", "elm", "oak", "yew"}, Members: []class.Member{
		{Reference: "oak", Status: plan.Ready, View: &view.Plan{Findings: []finding.Finding{open, warn("Cut one first.")}}},
		{Reference: "yew", Status: plan.Ready, Left: true, View: &view.Plan{Findings: []finding.Finding{warn("Cut one first.")}}},
		{Reference: "fir", Status: plan.Working, View: &view.Plan{Findings: []finding.Finding{block("Not told yet.")}}},
		{Reference: "box", Status: plan.Cancelled, View: &view.Plan{}},
		{Reference: "may", Status: plan.Asking, Answers: "http://desk/answers", View: &view.Plan{Questions: asks, Findings: []finding.Finding{open, block("Not yet."), warn("Thin.")}}},
		{Reference: "bay", Status: plan.Failed, Problem: "Send it again later."},
		{Reference: "gum", Status: plan.Refused, View: &view.Plan{}},
		{Reference: "elm", Status: plan.Refused, View: &view.Plan{Findings: []finding.Finding{warn("Thin."), block("Close the outline."), block("Weld them.")}}},
	}}
	const want = `Not yet: 1 of 9 still worked out, 2 ready.
roster     2 ready, 1 being worked out, 1 asking, 2 refused, 1 failed, 1 cancelled, 1 nothing received; 5 are not on the list: fir, box, may, bay, gum
drawings   taken until the set is closed
refused    elm: Close the outline.
             Weld them.
refused    gum
failed     bay: Send it again later.
asking     may: Is the frame A4?
             Are these mm?
             answer: http://desk/answers
cancelled  box: it was cancelled; send it again.
working    fir
left out   yew: it is larger than every sheet that its stock has; look at its plan.
missing    ash
ready      oak, yew
look       oak: Is it open?
look       oak, yew: Cut one first.
`
	if got := s.Text(class.Times{}); got != want {
		t.Errorf("the set is told as\n%swant\n%s", got, want)
	}
}

// Of what is to be looked at five are named, and of more the number.
func TestLooksNameFive(t *testing.T) {
	for n, want := range map[int]string{
		5: "look       a, b, c, d, e: Thin.\n", 6: "look       a, b, c, d, e and 1 more: Thin.\n",
	} {
		s := class.Set{Members: ready(n)}
		for i := range s.Members {
			s.Members[i].View = &view.Plan{Findings: []finding.Finding{{Severity: finding.Warn, Hint: "Thin."}}}
		}
		if got := lines(s.Text(class.Times{}), "look"); got != want {
			t.Errorf("of %d it is told %q, want %q", n, got, want)
		}
	}
}

// A single member beside the roster is told in the singular, and nobody at all too.
func TestRosterTextOfFew(t *testing.T) {
	one := class.Set{Roster: []string{"a"}, Members: ready(2)}
	if got, want := one.Count().Text(), "2 ready; 1 is not on the list: b"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := (&class.Set{}).Count().Text(); got != "nobody yet" {
		t.Errorf("nobody is told as %q", got)
	}
}
