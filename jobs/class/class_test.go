package class_test

import (
	"strings"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/class"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// ofThirty is a course of thirty: 25 ready, 2 refused, one asking, two of whom
// nothing was received.
func ofThirty() *class.Set {
	s := &class.Set{}
	for i := range 30 {
		reference := "tag-" + string(rune('a'+i/10)) + string(rune('0'+i%10))
		s.Roster = append(s.Roster, reference)
		m := class.Member{Reference: reference, Status: plan.Ready, Answers: "http://desk/v1/plans/x/answers", View: &view.Plan{
			Findings: []finding.Finding{{Severity: finding.Warn, Hint: "Make a test cut first."}, {Severity: finding.Mended, Hint: "Drawn twice."}},
		}}
		switch i {
		case 3, 7:
			m.Status = plan.Refused
			m.View.Findings = append(m.View.Findings, finding.Finding{Severity: finding.Block, Hint: "Close the outline.", Places: []finding.Place{
				{Box: geometry.Box{Min: geometry.Pt(10, 20), Max: geometry.Pt(12, 22)}},
			}})
		case 9:
			m.Status = plan.Asking
			m.View.Questions = []ask.Question{{ID: "size/frame", Text: "Is the frame A4?"}}
		case 20, 21:
			continue // nothing received
		}
		s.Members = append(s.Members, m)
	}
	return s
}

// The counts tell refused from absent, and the line answers who teaches.
func TestRosterCounts(t *testing.T) {
	s := ofThirty()
	r := s.Count()
	if r.Of != 30 || r.Ready != 25 || r.Refused != 2 || r.Asking != 1 || len(r.Missing) != 2 || r.Named() != 5 {
		t.Errorf("%+v", r)
	}
	if got := s.Answer(); got != "25 of 30 are ready; five named." {
		t.Error(got)
	}
	if got := r.Text(); got != "25 ready, 1 asking, 2 refused, 2 nothing received" {
		t.Error(got)
	}
	s.Members = append(s.Members, class.Member{Reference: "guest", Status: plan.Working})
	if r := s.Count(); r.Of != 31 || r.Moving != 1 || len(r.Beyond) != 1 || r.Beyond[0] != "guest" {
		t.Errorf("%+v", r)
	}
	if got := s.Answer(); !strings.HasPrefix(got, "Not yet: 1 of 31") {
		t.Error(got)
	}
}

// Each who is not ready is told what to do, and what is the same for many is said
// once.
func TestTextNamesWhoHasToDoWhat(t *testing.T) {
	text := ofThirty().Text(class.Times{})
	for _, want := range []string{
		"25 of 30 are ready; five named.\nroster ", "refused    tag-a3: Close the outline.\n             where: 11 mm from the left and 21 mm up\n",
		"asking     tag-a9: Is the frame A4?\n             answer: http://desk/v1/plans/x/answers\n", "missing    tag-c0, tag-c1\n",
		"look       tag-a0, tag-a1, tag-a2, tag-a4, tag-a5 and 20 more: Make a test cut first.\n", "drawings   taken until the set is closed\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
	if n := strings.Count(text, "test cut"); n != 1 {
		t.Errorf("the same is said %d times:\n%s", n, text)
	}
	if strings.Contains(text, "Drawn twice") {
		t.Errorf("what was mended is told:\n%s", text)
	}
	past := time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)
	for times, want := range map[class.Times]string{
		{Deadline: &past, Shut: true}:                "no more since 2026-03-02 09:30 UTC",
		{Deadline: &past}:                            "taken until 2026-03-02 09:30 UTC",
		{Deadline: &past, Closed: &past, Shut: true}: "closed since 2026-03-02 09:30 UTC",
	} {
		if text := ofThirty().Text(times); !strings.Contains(text, "drawings   "+want+"\n") {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
}

// A member's stock is one of the set's, and what the set says holds for it.
func TestTermsHoldForMembers(t *testing.T) {
	mirror := true
	terms := class.Terms{Stocks: []string{"card", "film"}, Frame: "A4", Novice: true, Mirror: &mirror, Convention: "orrin", Purpose: "pieces"}
	c, err := terms.Choices("", 3)
	if err != nil || c.Stock != "card" || c.Copies != 3 || c.Size.Frame != "A4" || !c.Options.Novice || c.Mirror != &mirror || c.Convention != "orrin" || c.Purpose != "pieces" {
		t.Errorf("%+v %v", c, err)
	}
	if c, err := terms.Choices("film", 1); err != nil || c.Stock != "film" {
		t.Errorf("%+v %v", c, err)
	}
	if _, err := terms.Choices("mask", 1); err == nil {
		t.Error("a stock that the set has not is taken")
	}
}

// day is when something happened.
var day = time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)

// Of each load it stands what it is laid on, how far it is, and who is on it with how
// many; of who was erased the code alone.
func TestTextTellsTheLoads(t *testing.T) {
	s := &class.Set{
		Members: []class.Member{{Reference: "oak", Code: "1", Status: plan.Ready, View: &view.Plan{}}, {Reference: "elm", Code: "2", Status: plan.Ready, View: &view.Plan{}}},
		Groups:  []class.Group{{Stock: "c", StockName: "card"}, {Stock: "f", StockName: "film"}},
		Loads: []class.Load{
			{Number: 1, Stock: "c", StockName: "card", GroupLoad: class.GroupLoad{Sheets: 2, Placed: []class.Placed{{Code: "1", Copies: 1}, {Code: "2", Copies: 3}}}},
			{Number: 2, Stock: "f", StockName: "film", Form: workshop.Roll, Issued: &day, GroupLoad: class.GroupLoad{RollMM: 450, Placed: []class.Placed{{Code: "2", Copies: 1}, {Code: "7", Copies: 2}}}},
			{Number: 3, Stock: "c", StockName: "card", Issued: &day, Cut: &day, GroupLoad: class.GroupLoad{Sheets: 1}},
			{Number: 4, Stock: "c", StockName: "card", Issued: &day, Cut: &day, Done: &day, GroupLoad: class.GroupLoad{Sheets: 1}},
		},
	}
	text := s.Text(class.Times{})
	for _, want := range []string{
		"fetch      3 sheets of card, 0 of them spare\n", "fetch      450 mm of film, 0 of them spare\n", // without the load that is done
		"load 1     2 sheets of card: 1 oak, 2 elm ×3\n", "load 2     450 mm of film, handed out: 2 elm, 7 ×2\n", "load 3     1 sheet of card, cut:", "load 4     1 sheet of card, done:",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
}
