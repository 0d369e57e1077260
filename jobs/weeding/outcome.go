package weeding

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Outcome lists what was found and what has to be asked.
func (m *Map) Outcome() ([]finding.Finding, []ask.Question) { return m.Findings, m.Questions }
