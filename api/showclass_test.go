package api

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"knifedesk/db"
	"knifedesk/jobs/class"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/session"
	"knifedesk/jobs/workshop"
)

var morning = time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)

// onCardAndFilm is a class set with a group on card that is as it stands, an older one on
// card that is kept for what was handed out, and one on film that failed.
func onCardAndFilm() (*class.Set, *queue.ClassView) {
	high := func(minutes float64) estimate.Range {
		return estimate.Range{Low: minutes - 0.5, Likely: minutes - 0.25, High: minutes}
	}
	takes := estimate.LoadTime{Prepare: high(1), Cut: high(2), Unload: high(3), Bench: high(4)}
	card := func(left ...string) *class.Group {
		return &class.Group{
			Stock: "card", StockName: "Card", Form: workshop.Sheet, Machine: "m", Mats: 2, Currency: "credit", MinorDigits: 2, Left: left,
			Findings: []finding.Finding{{Code: "thin", Severity: finding.Warn, Hint: "Yours.", TechnicianHint: "Look."}},
		}
	}
	now := &queue.ClassGroup{ClassGroup: db.ClassGroup{Current: true}, Digest: card("4")}
	now.Digest.Nested = &layout.Nested{Effort: layout.Quick, Better: true, SavedSheets: 1, Means: "1 sheet less"}
	former := &queue.ClassGroup{Digest: card("1")}
	failed := &queue.ClassGroup{ClassGroup: db.ClassGroup{Current: true, Failure: queue.FailureTimeout, Request: []byte(`{"stock": {"id": "film"}}`)}}
	placed := func(code string, copies int, cost int64) class.Placed {
		return class.Placed{Code: code, Copies: copies, CostMinor: cost}
	}
	v := &queue.ClassView{
		Groups: []*queue.ClassGroup{former, now, failed},
		Loads: []queue.ClassLoad{
			{Number: 1, Group: former, Load: class.GroupLoad{Number: 1, Sheets: 1, Placed: []class.Placed{placed("1", 2, 30), placed("9", 1, 20)}, Time: takes, CostMinor: 50}, Issued: &morning, Cut: &morning, Done: &morning},
			{Number: 2, Group: now, Load: class.GroupLoad{Number: 1, Sheets: 2, Placed: []class.Placed{placed("1", 1, 10), placed("2", 1, 15)}, Time: takes, CostMinor: 25}, Issued: &morning, Cut: &morning},
			{Number: 3, Group: now, Load: class.GroupLoad{Number: 2, Sheets: 10, Placed: []class.Placed{placed("2", 4, 60)}, Time: takes, CostMinor: 60}, Issued: &morning},
			{Number: 4, Group: now, Load: class.GroupLoad{Number: 3, Sheets: 1, Time: takes}},
		},
	}
	s := &class.Set{Members: []class.Member{{Reference: "oak", Code: "1"}, {Reference: "elm", Code: "2"}, {Reference: "ash", Code: "4"}}, Spares: class.DefaultSpares()}
	addLoads(s, v)
	return s, v
}

// Loads are added with their group's stock and machine; each member has the sum of what its
// copies cost, also on loads handed out before; and who lies on no load of a group that
// stands is left out, whatever one before it said.
func TestLoadsOfAClassSet(t *testing.T) {
	s, v := onCardAndFilm()
	for i, want := range []class.Member{{Reference: "oak", Code: "1", CostMinor: 40}, {Reference: "elm", Code: "2", CostMinor: 75}, {Reference: "ash", Code: "4", Left: true}} {
		if diff := cmp.Diff(want, s.Members[i]); diff != "" {
			t.Error(diff)
		}
	}
	if len(s.Groups) != 2 || len(s.Loads) != 4 || s.Loads[3].Mats != 2 || s.Loads[3].Machine != "m" || s.Loads[3].Currency != "credit" || s.Loads[3].MinorDigits != 2 || s.Loads[3].StockName != "Card" {
		t.Errorf("%d groups, loads %+v", len(s.Groups), s.Loads)
	}
	all := showLoads(s, "/sets/1")
	minutes := ClassMinutes{Prepare: 1, Cut: 2, Unload: 3, Bench: 4}
	for i, want := range []ClassLoad{
		{Number: 1, State: "done", Sheets: 1, CostMinor: 50, IssuedAt: &morning, CutAt: &morning, DoneAt: &morning, Members: []ClassPlaced{{Code: "1", Copies: 2, CostMinor: 30, Reference: "oak"}, {Code: "9", Copies: 1, CostMinor: 20}}},
		{Number: 2, State: "cut", Sheets: 2, CostMinor: 25, IssuedAt: &morning, CutAt: &morning, Members: []ClassPlaced{{Code: "1", Copies: 1, CostMinor: 10, Reference: "oak"}, {Code: "2", Copies: 1, CostMinor: 15, Reference: "elm"}}},
		{Number: 3, State: "issued", Sheets: 10, CostMinor: 60, IssuedAt: &morning, Members: []ClassPlaced{{Code: "2", Copies: 4, CostMinor: 60, Reference: "elm"}}},
		{Number: 4, State: "laid", Sheets: 1, Members: []ClassPlaced{}},
	} {
		want.StockID, want.MachineID, want.Minutes = "card", "m", minutes
		if links := all[i].Links; len(links) != 8 || !strings.HasPrefix(links["dxf"], "/sets/1/loads/"+string(rune('0'+want.Number))+"/") {
			t.Errorf("load %d has links %v", want.Number, links)
		}
		all[i].Links = nil
		if diff := cmp.Diff(want, all[i]); diff != "" {
			t.Errorf("load %d: %s", want.Number, diff)
		}
	}
	// Of 13 sheets that are not done a tenth besides, up to whole ones.
	want := []ClassStock{
		{StockID: "card", StockName: "Card", Loads: 3, Sheets: 13, SpareSheets: 2, Nested: []Nested{{Effort: "quick", Better: true, SavedSheets: 1, Means: "1 sheet less"}}, Findings: []ClassChange{{Code: "thin", Severity: "warn", Text: "Look."}}},
		{StockID: "film", StockName: "film", Problem: failureText(queue.FailureTimeout, "")},
	}
	if diff := cmp.Diff(want, showStocks(s, v.Groups)); diff != "" {
		t.Errorf("to be fetched is\n%s", diff)
	}
}

// The schedule is told from the begin of the session, whose briefing comes first, and the
// last peel also by the clock.
func TestScheduleOfAClassSet(t *testing.T) {
	s := &class.Set{Session: &class.Session{Minutes: 120, Briefing: 15, Clearing: 10}, Plan: &session.Plan{
		Usable: 95, Runs: []session.Run{{Code: "3", Prepare: 1, Cut: 2, Out: 12, Place: 2, Peel: 13, Done: 20.5}}, LastPeel: 20.5, Over: []string{"2"}, Long: []string{"1", "4"},
	}}
	want := &ClassSchedule{UsableMin: 95, Runs: []ClassRun{{Load: 3, PrepareMin: 16, CutMin: 17, OutMin: 27, Place: 2, PeelMin: 28, DoneMin: 35.5}}, LastPeelMin: 35.5, Over: []int{2}, TooLong: []int{1, 4}}
	if diff := cmp.Diff(want, showSchedule(s)); diff != "" {
		t.Error(diff)
	}
	s.Session.Start = &morning
	at := morning.Add(35*time.Minute + 30*time.Second)
	want.LastPeelAt = &at
	if diff := cmp.Diff(want, showSchedule(s)); diff != "" {
		t.Error(diff)
	}
	s.Plan = &session.Plan{Usable: 95}
	if diff := cmp.Diff(&ClassSchedule{UsableMin: 95, Runs: []ClassRun{}, Over: []int{}, TooLong: []int{}}, showSchedule(s)); diff != "" {
		t.Error(diff)
	}
	if s.Plan = nil; showSchedule(s) != nil {
		t.Error("nothing is planned, and yet it is shown")
	}
}

// What is not said of a session is common practice; what is said is taken, nought too.
func TestSessionsAreRead(t *testing.T) {
	for _, c := range []struct {
		said ClassSession
		want class.Session
	}{
		{ClassSession{Minutes: 90}, class.Session{Minutes: 90, Places: 1, Briefing: 15, Clearing: 10}},
		{ClassSession{Minutes: 90, Places: 3, BriefingMin: ptr(0.0), ClearingMin: ptr(5.0), StartAt: &morning}, class.Session{Minutes: 90, Places: 3, Clearing: 5, Start: &morning}},
	} {
		if diff := cmp.Diff(c.want, readSession(c.said)); diff != "" {
			t.Error(diff)
		}
	}
}

// The table has a line for each thing to change, one for who has none, and one for each of
// whom nothing was received; nothing in it is taken for a formula.
func TestMembersTable(t *testing.T) {
	id := uuid.UUID{15: 7}
	set := &ClassSet{
		Members: []ClassMember{
			{Reference: "oak", Status: "asking", StockID: "card", Copies: 2, Code: "01", Loads: []int{2, 3}, CostMinor: 40, PlanID: id, Changes: []ClassChange{
				{Code: "unit", Severity: "ask", Text: "Are these mm?", Where: "2 mm up", QuestionID: "size/unit"}, {Code: "thin", Severity: "warn", Text: "=Thin."},
			}},
			{Reference: "+elm", Status: "failed", StockID: "card", Copies: 1, Problem: "Send it again.", PlanID: id},
		},
		Roster: ClassRoster{Missing: []string{"ash", "@yew"}},
	}
	want := "reference,state,stock_id,copies,code,loads,cost_minor,severity,finding,change,where,question_id,plan_id\r\n" +
		"oak,asking,card,2,01,2 3,40,ask,unit,Are these mm?,2 mm up,size/unit,00000000-0000-0000-0000-000000000007\r\n" +
		"oak,asking,card,2,01,2 3,40,warn,thin,'=Thin.,,,00000000-0000-0000-0000-000000000007\r\n" +
		"'+elm,failed,card,1,,,0,,,Send it again.,,,00000000-0000-0000-0000-000000000007\r\n" +
		"ash,missing,,,,,,,,,,,\r\n'@yew,missing,,,,,,,,,,,\r\n"
	if diff := cmp.Diff(want, membersTable(set)); diff != "" {
		t.Error(diff)
	}
}
