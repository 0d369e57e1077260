package class

import (
	"cmp"
	"slices"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/session"
	"knifedesk/jobs/view"
)

// Member is one drawing of a set, by its reference, and how its plan stands.
type Member struct {
	Reference string
	Status    plan.Status
	View      *view.Plan
	Problem   string // where the plan failed: what to do
	Answers   string // the address that takes answers
	Code      string // what its work is marked with; empty: not decided yet
	Left      bool   // its work fits on no sheet
	CostMinor int64  // its part of the cost of all loads
}

// Set is who is expected and what was received.
type Set struct {
	Members []Member
	Roster  []string // empty: nobody in particular is expected
	Moves   bool     // something of it is still worked out
	Share   float64  // of the laying of its loads, from 0 to 1; 0: it is not known
	Groups  []Group
	Loads   []Load        // by number
	Session *Session      // nil: nothing is said of the time
	Plan    *session.Plan // of the session, as Fit makes it; nil before
	Spares  Spares
}

// Roster says how many stand how. What is refused is not absent.
type Roster struct {
	// Of is how many there are to be: those who are expected, and members beside
	// them.
	Of        int
	Ready     int
	Moving    int // queued or worked on
	Asking    int
	Refused   int
	Failed    int
	Cancelled int
	Missing   []string // of whom nothing was received
	Beyond    []string // members who are not on the roster, where there is one
	Left      []string // of those who are ready, whose work fits on no sheet
}

// Count counts how the members stand.
func (s *Set) Count() Roster {
	r := Roster{Missing: []string{}, Beyond: []string{}, Left: []string{}}
	received := map[string]bool{}
	for _, m := range s.Members {
		received[m.Reference] = true
		switch m.Status {
		case plan.Ready:
			r.Ready++
			if m.Left {
				r.Left = append(r.Left, m.Reference)
			}
		case plan.Asking:
			r.Asking++
		case plan.Refused:
			r.Refused++
		case plan.Failed:
			r.Failed++
		case plan.Cancelled:
			r.Cancelled++
		default:
			r.Moving++
		}
		if len(s.Roster) > 0 && !slices.Contains(s.Roster, m.Reference) {
			r.Beyond = append(r.Beyond, m.Reference)
		}
	}
	for _, reference := range s.Roster {
		if !received[reference] {
			r.Missing = append(r.Missing, reference)
		}
	}
	r.Of = len(s.Members) + len(r.Missing)
	return r
}

// Laid is how many of them are ready and lie on some load.
func (r Roster) Laid() int { return r.Ready - len(r.Left) }

// Named is how many of them are not, once no member moves.
func (r Roster) Named() int { return r.Of - r.Laid() - r.Moving }

// byWeight orders members as a lecturer needs them: who has to do something first.
func byWeight(a, b Member) int {
	weight := map[plan.Status]int{plan.Refused: 1, plan.Failed: 2, plan.Asking: 3, plan.Cancelled: 4, plan.Queued: 5, plan.Working: 5, plan.Ready: 6}
	return cmp.Or(cmp.Compare(weight[a.Status], weight[b.Status]), cmp.Compare(a.Reference, b.Reference))
}
