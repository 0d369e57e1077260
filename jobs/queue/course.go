package queue

import (
	"knifedesk/db"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
)

// course is how a plan fares from stage to stage: where it stops, and as what.
type course struct {
	refused bool // by something in a drawing of which the rest is still checked
}

// before says whether the plan stops ahead of a stage; "" to go on.
func (c *course) before(stage plan.Stage) db.Status {
	if c.refused && !stage.Checks {
		return db.Refused
	}
	return ""
}

// after says whether the plan stops after a stage with this outcome: refused by
// a finding that blocks and that no open question can settle, asking where a
// question is open, "" to go on. What is refused is not asked about.
func (c *course) after(o db.Outcome) db.Status {
	blocked := blocks(o)
	c.refused = c.refused || blocked
	switch open := len(o.Questions) > 0; {
	case c.refused && (open || blocked && !o.Checkable):
		return db.Refused
	case open:
		return db.Asking
	}
	return ""
}

// end is what the plan is when no stage is left.
func (c *course) end() db.Status {
	if c.refused {
		return db.Refused
	}
	return db.Ready
}

// blocks reports whether a finding blocks that no open question can settle.
func blocks(o db.Outcome) bool {
	asked := map[finding.Code]bool{}
	for _, q := range o.Questions {
		asked[q.Code] = true
	}
	for _, f := range o.Findings {
		if f.Severity == finding.Block && !asked[f.Code] {
			return true
		}
	}
	return false
}
