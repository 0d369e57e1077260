package size

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Outcome lists what was found and what has to be asked.
func (r *Result) Outcome() ([]finding.Finding, []ask.Question) { return r.Findings, r.Questions }
