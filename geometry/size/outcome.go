package size

import (
	"knifedesk/geometry/ask"
	"knifedesk/geometry/finding"
)

// Outcome lists what was found and what has to be asked.
func (r *Result) Outcome() ([]finding.Finding, []ask.Question) { return r.Findings, r.Questions }
