package jobs

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
)

// Course is how a plan fares from job to job: where it stops, and as what. The
// zero value is the beginning.
type Course struct {
	refused bool // by something in a drawing of which the rest is still checked
}

// Before says whether the plan stops ahead of a job; "" to go on.
func (c *Course) Before(row *Row) plan.Status {
	if c.refused && !row.Checks {
		return plan.Refused
	}
	return ""
}

// After says whether the plan stops after a job with this outcome: refused by a
// finding that blocks and that no open question can settle, asking where a
// question is open, "" to go on. What is refused is not asked about.
func (c *Course) After(o Outcome) plan.Status {
	blocked := blocks(o)
	c.refused = c.refused || blocked
	switch open := len(o.Questions) > 0; {
	case c.refused && (open || blocked && !o.Checkable):
		return plan.Refused
	case open:
		return plan.Asking
	}
	return ""
}

// End is what the plan is when no job is left.
func (c *Course) End() plan.Status {
	if c.refused {
		return plan.Refused
	}
	return plan.Ready
}

// blocks reports whether a finding blocks that no open question can settle.
func blocks(o Outcome) bool {
	asked := map[finding.Code]bool{}
	for _, q := range ask.All(o.Questions) {
		asked[q.Code] = true
	}
	for _, f := range o.Findings {
		if f.Severity == finding.Block && !asked[f.Code] {
			return true
		}
	}
	return false
}
