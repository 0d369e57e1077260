package class_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/session"
	"knifedesk/jobs/view"
)

// members are so many of each status, named a, b, c and so on.
func members(all ...plan.Status) []class.Member {
	var out []class.Member
	for i, s := range all {
		name := string(rune('a' + i))
		out = append(out, class.Member{Reference: name, Code: name, Status: s, View: &view.Plan{}})
	}
	return out
}

func ready(n int) []class.Member {
	var all []plan.Status
	for range n {
		all = append(all, plan.Ready)
	}
	return members(all...)
}

func numbered(n int) []class.Load {
	all := make([]class.Load, n)
	for i := range all {
		all[i].Number = i + 1
	}
	return all
}

// The one line for whoever teaches, in each state of a set, and the same where nobody is
// named.
func TestAnswerOfEachState(t *testing.T) {
	hour := &class.Session{Minutes: 120, Places: 2, Briefing: 15, Clearing: 10}
	left := ready(2)
	left[1].Left = true
	for _, c := range []struct {
		set          class.Set
		answer, gist string
	}{
		{class.Set{}, "Nothing received yet.", ""},
		{class.Set{Members: members(plan.Queued, plan.Ready, plan.Working)}, "Not yet: 2 of 3 still worked out, 1 ready.", ""},
		{class.Set{Members: ready(2), Moves: true}, "Not yet: 2 of 2 are ready, and their loads are being laid.", ""},
		{class.Set{Members: ready(2), Moves: true, Share: 0.456}, "Not yet: 2 of 2 are ready, and their loads are being laid (45 % done).", ""},
		{class.Set{Members: ready(2)}, "All are ready; no load is laid.", ""},
		{class.Set{Members: members(plan.Ready, plan.Refused)}, "1 of 2 is ready; one named.", "1 of 2 is ready."},
		{class.Set{Members: members(plan.Ready, plan.Ready, plan.Failed)}, "2 of 3 are ready; one named.", "2 of 3 are ready."},
		{class.Set{Members: ready(2), Loads: numbered(1)}, "1 load, all 2.", ""},
		{class.Set{Members: left, Loads: numbered(2)}, "2 loads, 1 of 2; one named.", "2 loads, 1 of 2."},
		{class.Set{Members: members(plan.Ready), Roster: strings.Fields("a b c d e f g h i j k l m"), Loads: numbered(1)}, "1 load, 1 of 13; twelve named.", "1 load, 1 of 13."},
		{class.Set{Members: members(plan.Ready), Roster: strings.Fields("a b c d e f g h i j k l m n"), Loads: numbered(1)}, "1 load, 1 of 14; 13 named.", "1 load, 1 of 14."},
		{class.Set{Members: ready(2), Loads: numbered(3), Session: hour, Plan: &session.Plan{Runs: []session.Run{{Code: "1"}}, Over: []string{"2"}}},
			"No: 3 loads, 1 of them not in this session (load 2), all 2.", ""},
		{class.Set{Members: ready(2), Loads: numbered(3), Session: hour, Plan: &session.Plan{Over: []string{"1", "2"}, Long: []string{"3"}}},
			"No: 3 loads, 3 of them not in this session (load 3, 1, 2), all 2.", ""},
		{class.Set{Members: ready(2), Loads: numbered(3), Session: hour, Plan: &session.Plan{Runs: []session.Run{{Code: "1"}}, Over: []string{"2"}, Long: []string{"3"}}},
			"No: 3 loads, 2 of them not in this session (load 3, 2), all 2.", ""},
		{class.Set{Members: ready(1), Loads: numbered(1), Session: hour, Plan: &session.Plan{}}, "1 load, all done, all 1.", ""},
		{class.Set{Members: ready(1), Loads: numbered(1), Session: hour, Plan: &session.Plan{Runs: []session.Run{{Code: "1"}}, LastPeel: 60}},
			"Yes: 1 load, last peel 75 min after the start, all 1.", ""},
	} {
		gist := c.gist
		if gist == "" {
			gist = c.answer
		}
		if got := c.set.Answer(); got != c.answer {
			t.Errorf("the answer is %q, want %q", got, c.answer)
		}
		if got := c.set.Gist(); got != gist {
			t.Errorf("without names it is %q, want %q", got, gist)
		}
	}
}

// lines are those of a text that begin with a label, and what follows each without one.
func lines(text, label string) string {
	var out strings.Builder
	in := false
	for line := range strings.Lines(text) {
		if line[0] != ' ' {
			in = strings.HasPrefix(line, label+" ")
		}
		if in {
			out.WriteString(line)
		}
	}
	return out.String()
}

// The session is told load by load, in minutes or by the clock, and what is not in it. By
// hand: 15 minutes of briefing come before all, and a peel that ends at 50.2 minutes ends by
// the clock with the minute after the fiftieth.
func TestTextTellsTheSession(t *testing.T) {
	s := class.Set{
		Members: ready(2), Groups: make([]class.Group, 1), Loads: numbered(4), Session: &class.Session{Minutes: 120, Places: 2, Briefing: 15, Clearing: 10},
		Plan: &session.Plan{
			Usable: 95, Runs: []session.Run{{Code: "1", Prepare: 0, Cut: 2, Out: 12, Peel: 15, Done: 35.2, Place: 2}}, LastPeel: 35.2, Over: []string{"3"}, Long: []string{"2", "4"},
		},
	}
	const head, rest = "session    120 min, of which 95 to cut and peel after a briefing of 15\n           load 1: prepare %s, cut %s, peel from %s to %s at place 2\n",
		"left over  load 3: not in this session any more\ntoo long   load 2, 4: longer than the session by itself; plan a longer one, or fewer copies\n"
	check := func(want string) {
		t.Helper()
		text := s.Text(class.Times{})
		if got := lines(text, "session") + lines(text, "left over") + lines(text, "too long"); got != want {
			t.Errorf("the session is told as\n%swant\n%s", got, want)
		}
	}
	check(fmt.Sprintf(head, "15 min after the start", "17 min after the start", "30 min after the start", "50 min after the start") + rest)
	start := time.Date(2026, 3, 2, 9, 30, 0, 0, time.FixedZone("", 3600))
	s.Session.Start = &start
	check(fmt.Sprintf(head, "09:45", "09:47", "10:00", "10:21") + rest)
	s.Plan.Over, s.Plan.Long = nil, nil
	check(fmt.Sprintf(head, "09:45", "09:47", "10:00", "10:21"))
	s.Loads = nil
	check("")
	s.Loads, s.Plan = numbered(4), nil
	check("")
}

// What all loads cost is told with the part of each, and of many with the least and the
// most.
func TestTextTellsTheCost(t *testing.T) {
	for _, c := range []struct {
		digits int32
		parts  []int64
		want   string
	}{
		{2, []int64{700, 0, 605}, "cost       13.05 credit, by area: a 7.00, c 6.05\n"},
		{0, []int64{1305}, "cost       1305 credit, by area: a 1305\n"},
		{2, []int64{1, 2, 3, 4, 5, 6, 7, 1277}, "cost       13.05 credit, by area: a 0.01, b 0.02, c 0.03, d 0.04, e 0.05, f 0.06, g 0.07, h 12.77\n"},
		{2, []int64{30, 2, 3, 4, 5, 6, 7, 8, 1240}, "cost       13.05 credit, by area: 0.02 to 12.40 each, as the table of members lists\n"},
	} {
		s := class.Set{Members: ready(len(c.parts)), Groups: make([]class.Group, 1), Loads: numbered(2)}
		for i, part := range c.parts {
			s.Members[i].CostMinor = part
		}
		s.Loads[0].CostMinor, s.Loads[1].CostMinor = 1300, 5
		s.Loads[0].Currency, s.Loads[0].MinorDigits = "credit", c.digits
		if got := lines(s.Text(class.Times{}), "cost"); got != c.want {
			t.Errorf("the cost is told as\n%swant\n%s", got, c.want)
		}
		if got := s.TotalText(); s.TotalMinor() != 1305 || !strings.HasPrefix(c.want, "cost       "+got+",") {
			t.Errorf("all is %d, %q", s.TotalMinor(), got)
		}
	}
	none := class.Set{Members: ready(2)}
	if got := lines(none.Text(class.Times{}), "cost") + none.TotalText(); got != "" {
		t.Errorf("without a load there is a cost: %q", got)
	}
}
