package class

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"knifedesk/jobs/finding"
)

// Answer is the one line that answers whoever teaches the class: whether the time is
// enough for those who are ready, how many these are, and how many are named.
func (s *Set) Answer() string { return s.answer(named) }

// Gist is Answer where nobody is named.
func (s *Set) Gist() string { return s.answer(func(Roster) string { return "." }) }

func (s *Set) answer(named func(Roster) string) string {
	r := s.Count()
	switch {
	case r.Of == 0:
		return "Nothing received yet."
	case r.Moving > 0:
		return fmt.Sprintf("Not yet: %d of %d still worked out, %d ready.", r.Moving, r.Of, r.Ready)
	case s.Moves:
		return fmt.Sprintf("Not yet: %d of %d are ready, and their loads are being laid%s.", r.Ready, r.Of, s.soFar())
	case len(s.Loads) == 0 && r.Named() == 0:
		return "All are ready; no load is laid."
	case len(s.Loads) == 0:
		return finding.Fill("{n} of {of} {n:is|are} ready", finding.Values{"n": finding.Int(r.Ready), "of": finding.Int(r.Of)}) + named(r)
	}
	return s.verdict() + count(r) + named(r)
}

// soFar says how far the laying has come, where it says so itself.
func (s *Set) soFar() string {
	if s.Share <= 0 {
		return ""
	}
	return fmt.Sprintf(" (%.0f %% done)", math.Floor(100*s.Share))
}

// verdict says how many loads there are, and whether they fit the session.
func (s *Set) verdict() string {
	loads := finding.Fill("{n} {n:load|loads}", finding.Values{"n": finding.Int(len(s.Loads))})
	plan := s.Plan
	switch {
	case plan == nil:
		return loads + ", "
	case len(plan.Over)+len(plan.Long) > 0:
		late := append(Numbers(plan.Long), Numbers(plan.Over)...)
		return fmt.Sprintf("No: %s, %d of them not in this session (%s), ", loads, len(late), "load "+list(late))
	case len(plan.Runs) == 0:
		return loads + ", all done, "
	}
	return "Yes: " + loads + ", last peel " + s.at(plan.LastPeel) + ", "
}

// count and named say of how many the loads are, and how many have to do something.
func count(r Roster) string {
	if r.Named() == 0 {
		return fmt.Sprintf("all %d", r.Of)
	}
	return fmt.Sprintf("%d of %d", r.Laid(), r.Of)
}

func named(r Roster) string {
	if n := r.Named(); n > 0 {
		return "; " + inWords(n) + " named."
	}
	return "."
}

// Numbers are those of loads by their codes.
func Numbers(codes []string) []int {
	all := make([]int, len(codes))
	for i, c := range codes {
		all[i], _ = strconv.Atoi(c) // as request wrote them
	}
	return all
}

func list(numbers []int) string {
	all := make([]string, len(numbers))
	for i, n := range numbers {
		all[i] = strconv.Itoa(n)
	}
	return strings.Join(all, ", ")
}
