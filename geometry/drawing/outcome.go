package drawing

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Outcome lists what was found and what has to be asked.
func (d *Drawing) Outcome() ([]finding.Finding, []ask.Question) { return d.Findings, d.Questions }

// Checkable reports whether shapes were read, and not only up to a limit.
func (d *Drawing) Checkable() bool {
	for _, f := range d.Findings {
		if f.Code == finding.LimitReached {
			return false
		}
	}
	return len(d.Shapes) > 0
}
