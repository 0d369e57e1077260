package class

import (
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// Change is one thing to do about a drawing, or to know of it.
type Change struct {
	Code     finding.Code
	Severity finding.Severity
	Text     string // what to change, or what is asked
	Where    string // as one measures from the edges of the work; empty: nowhere in particular
	Question string // its id, where it is to be answered
}

// Changes lists what is to be done about a member, what stops it first: of one
// that is refused what blocks it, of one that asks its questions, and of all what
// to look at. What was mended needs nobody.
func (m *Member) Changes() []Change {
	var all, look []Change
	if m.View == nil {
		return nil
	}
	for _, q := range m.View.Questions {
		all = append(all, Change{q.Code, finding.Ask, q.Text, view.Where(q.Places), q.ID})
	}
	for _, f := range m.View.Findings {
		c := Change{Code: f.Code, Severity: f.Severity, Text: f.Hint, Where: view.Where(f.Places)}
		switch {
		case f.Severity == finding.Block && m.Status != plan.Asking:
			all = append(all, c)
		case f.Severity == finding.Warn, f.Severity == finding.Ask && len(m.View.Questions) == 0:
			c.Severity = finding.Warn
			look = append(look, c)
		}
	}
	return append(all, look...)
}
