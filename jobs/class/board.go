package class

import (
	"cmp"
	"slices"

	"knifedesk/jobs/plan"
)

// Standing is how far the work of a member is, as a class sees it.
type Standing string

// The standings, in the order in which work goes through them.
const (
	WorkedOut Standing = "worked_out" // its drawing is being looked at
	Asks      Standing = "asks"       // it waits for an answer
	ToMend    Standing = "to_mend"    // its drawing cannot be cut as it is
	Waits     Standing = "waits"      // it is ready, and on no load handed out
	AtCutter  Standing = "at_cutter"  // a load with it was handed out
	AtBench   Standing = "at_bench"   // it is cut, and to be peeled
	Made      Standing = "made"
)

// Standings lists them in their order.
func Standings() []Standing {
	return []Standing{WorkedOut, Asks, ToMend, Waits, AtCutter, AtBench, Made}
}

// Mark is a member on a board: by what its work is marked with, and by no name.
type Mark struct {
	Code     string
	Standing Standing
	Loads    []int // their numbers
}

// Board lists the members by their codes, and counts those who have none yet.
func (s *Set) Board() (marks []Mark, unmarked int) {
	for i := range s.Members {
		m := &s.Members[i]
		if m.Code == "" {
			unmarked++
			continue
		}
		marks = append(marks, Mark{m.Code, s.standing(m), s.LoadsOf(m.Code)})
	}
	slices.SortFunc(marks, func(a, b Mark) int { return cmp.Or(len(a.Code)-len(b.Code), cmp.Compare(a.Code, b.Code)) })
	return marks, unmarked
}

// standing is how far the work of a member is: no farther than the load that is least so.
func (s *Set) standing(m *Member) Standing {
	switch {
	case !m.Status.Settled():
		return WorkedOut
	case m.Status == plan.Asking:
		return Asks
	case m.Status != plan.Ready || m.Left:
		return ToMend
	}
	least := Made
	on := s.LoadsOf(m.Code)
	for i := range s.Loads {
		if l := &s.Loads[i]; slices.Contains(on, l.Number) && slices.Index(Standings(), l.Standing()) < slices.Index(Standings(), least) {
			least = l.Standing()
		}
	}
	if len(on) == 0 {
		return Waits
	}
	return least
}

// Standing is how far a load is.
func (l *Load) Standing() Standing {
	switch {
	case l.Done != nil:
		return Made
	case l.Cut != nil:
		return AtBench
	case l.Issued != nil:
		return AtCutter
	}
	return Waits
}
