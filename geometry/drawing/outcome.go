package drawing

import (
	"knifedesk/geometry/ask"
	"knifedesk/geometry/finding"
)

// Outcome lists what was found and what has to be asked.
func (d *Drawing) Outcome() ([]finding.Finding, []ask.Question) { return d.Findings, d.Questions }
