package weeding

import (
	"slices"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Outcome lists what was found and what has to be asked.
func (m *Map) Outcome() ([]finding.Finding, []ask.Question) { return m.Findings, m.Questions }

// SheetUncut reports whether the sheet round a stencil's openings is kept and
// no line runs along its edge.
func (m *Map) SheetUncut() bool {
	sheet := func(r Region) bool { return r.Kept() && r.Depth == 0 }
	edge := func(s artwork.Stroke) bool { return s.Added == artwork.Border }
	return slices.ContainsFunc(m.Regions, sheet) && !slices.ContainsFunc(m.Strokes, edge)
}

// BridgeCount returns how many bridges join islands to the sheet: all that were
// laid, or 0 where no island holds by them.
func (m *Map) BridgeCount() int {
	held := func(f finding.Finding) bool { return f.Code == finding.IslandBridged }
	if !slices.ContainsFunc(m.Findings, held) {
		return 0
	}
	return len(m.Bridges)
}
