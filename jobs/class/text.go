package class

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
)

// inWords writes a small number as a word, as text does.
func inWords(n int) string {
	words := [...]string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

// Times are until when members are taken; nil: not said.
type Times struct {
	Deadline *time.Time
	Closed   *time.Time
	Shut     bool
}

const minute = "2006-01-02 15:04 UTC"

// text says whether members are taken.
func (t Times) text() string {
	switch {
	case t.Closed != nil:
		return "closed since " + t.Closed.UTC().Format(minute)
	case t.Shut:
		return "no more since " + t.Deadline.UTC().Format(minute)
	case t.Deadline != nil:
		return "taken until " + t.Deadline.UTC().Format(minute)
	}
	return "taken until the set is closed"
}

// Text writes the set for a shell: the answer first, then who has to do what.
func (s *Set) Text(t Times) string {
	var b strings.Builder
	line := func(label, format string, args ...any) {
		fmt.Fprintln(&b, strings.TrimRight(fmt.Sprintf("%-10s %s", label, fmt.Sprintf(format, args...)), " "))
	}
	r := s.Count()
	fmt.Fprintln(&b, s.Answer())
	line("roster", "%s", r.Text())
	line("drawings", "%s", t.text())
	s.writeNamed(line, r)
	s.writeReady(line)
	s.writeFetch(line)
	s.writeSchedule(line)
	s.writeCost(line)
	return b.String()
}

// Text says how many stand how, leaving out what there is none of.
func (r Roster) Text() string {
	var parts []string
	for _, p := range []struct {
		n    int
		word string
	}{
		{r.Ready, "ready"}, {r.Moving, "being worked out"}, {r.Asking, "asking"}, {r.Refused, "refused"},
		{r.Failed, "failed"}, {r.Cancelled, "cancelled"}, {len(r.Missing), "nothing received"},
	} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", p.n, p.word))
		}
	}
	if len(parts) == 0 {
		return "nobody yet"
	}
	text := strings.Join(parts, ", ")
	if n := len(r.Beyond); n > 0 {
		text += finding.Fill("; {n} {n:is|are} not on the list: ", finding.Values{"n": finding.Int(n)}) + strings.Join(r.Beyond, ", ")
	}
	return text
}

type writeLine func(label, format string, args ...any)

// writeNamed writes those who are not ready, with what each has to do.
func (s *Set) writeNamed(line writeLine, r Roster) {
	named := slices.DeleteFunc(slices.Clone(s.Members), func(m Member) bool { return m.Status == plan.Ready })
	slices.SortFunc(named, byWeight)
	for _, m := range named {
		if !m.Status.Settled() {
			line(string(m.Status), "%s", m.Reference)
			continue
		}
		said := false
		for _, c := range m.Changes() {
			if c.Severity == finding.Warn {
				continue // first it has to be ready at all
			}
			line(m.label(said), "%s", m.heading(said)+c.Text)
			if c.Where != "" {
				line("", "  where: %s", c.Where)
			}
			said = true
		}
		if !said {
			line(string(m.Status), "%s", m.Reference+otherwise(m))
		}
		if m.Status == plan.Asking {
			line("", "  answer: %s", m.Answers)
		}
	}
	for _, m := range s.Members {
		if m.Left {
			line("left out", "%s: it is larger than every sheet that its stock has; look at its plan.", m.Reference)
		}
	}
	if len(r.Missing) > 0 {
		line("missing", "%s", strings.Join(r.Missing, ", "))
	}
}

// label and heading stand before the first thing that is said of a member only.
func (m *Member) label(said bool) string {
	if said {
		return ""
	}
	return string(m.Status)
}

func (m *Member) heading(said bool) string {
	if said {
		return "  "
	}
	return m.Reference + ": "
}

// otherwise says what became of a member in whose drawing nothing is wrong.
func otherwise(m Member) string {
	if m.Problem != "" {
		return ": " + m.Problem
	}
	if m.Status == plan.Cancelled {
		return ": it was cancelled; send it again."
	}
	return ""
}

// writeReady writes those who are ready, and what to look at before cutting.
func (s *Set) writeReady(line writeLine) {
	var ready []string
	for _, m := range s.Members {
		if m.Status == plan.Ready {
			ready = append(ready, m.Reference)
		}
	}
	if len(ready) > 0 {
		slices.Sort(ready)
		line("ready", "%s", strings.Join(ready, ", "))
	}
	s.writeLooks(line)
}

// mostNamed is how many are named beside what to look at: often it is the same for
// all of a class.
const mostNamed = 5

// writeLooks writes what to look at before cutting, each thing once.
func (s *Set) writeLooks(line writeLine) {
	var texts []string
	who := map[string][]string{}
	for _, m := range s.Members {
		for _, c := range m.Changes() {
			if m.Status != plan.Ready {
				continue
			}
			if who[c.Text] == nil {
				texts = append(texts, c.Text)
			}
			who[c.Text] = append(who[c.Text], m.Reference)
		}
	}
	for _, text := range texts {
		names := who[text]
		list := strings.Join(names[:min(len(names), mostNamed)], ", ")
		if more := len(names) - mostNamed; more > 0 {
			list += fmt.Sprintf(" and %d more", more)
		}
		line("look", "%s: %s", list, text)
	}
}
