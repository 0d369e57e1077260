package artwork

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Outcome lists what was found and what has to be asked.
func (a *Artwork) Outcome() ([]finding.Finding, []ask.Question) { return a.Findings, a.Questions }
