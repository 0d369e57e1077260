package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// defaultOverlap is how far panels overlap, in mm (common practice, no source).
const defaultOverlap = 10

// RollLeft returns the length on a roll, in mm, from its outer and core
// diameters and the thickness of film and liner together: the area of the
// ring over the thickness, π(D²−d²)/4t.
func RollLeft(outerMM, coreMM, thicknessMM float64) float64 {
	return math.Pi * (outerMM*outerMM - coreMM*coreMM) / (4 * thicknessMM)
}

// offTheStock says that the piece fits in neither turn, and how many panels
// it would need in the turn that needs fewer.
func (l *Layout) offTheStock(b geometry.Box, req Request, a area) {
	overlap := req.OverlapMM
	if overlap == 0 {
		overlap = defaultOverlap
	}
	length := a.box.Height()
	if req.Stock.Form == workshop.Roll && req.Stock.LengthMM > 0 {
		length = req.Stock.LengthMM - req.Stock.LeadMM - req.Stock.TailMM
	}
	grid := func(w, h float64) [2]int {
		return [2]int{nest.Panels(w, a.box.Width(), overlap), nest.Panels(h, length, overlap)}
	}
	best, turned := grid(b.Width(), b.Height()), false
	if q := grid(b.Height(), b.Width()); q[0]*q[1] > 0 && (q[0]*q[1] < best[0]*best[1] || best[0]*best[1] == 0) {
		best, turned = q, true
	}
	l.Findings = append(l.Findings, finding.New(finding.OffTheStock, 1, finding.Values{
		"width_mm": finding.Num(b.Width()), "height_mm": finding.Num(b.Height()),
		"usable_width_mm": finding.Num(a.box.Width()), "usable_length_mm": finding.Num(length),
		"overlap_mm": finding.Num(overlap), "turned": finding.Truth(turned),
		"panels_across": finding.Int(best[0]), "panels_along": finding.Int(best[1]), "panels": finding.Int(best[0] * best[1]),
	}, finding.Place{Box: b}))
}
