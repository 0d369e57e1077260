package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// offTheStock says that the piece fits in neither turn, how many panels it would
// need in the turn that needs fewer, and which other stock would do.
func (l *Layout) offTheStock(b geometry.Box, req Request, a area) {
	overlap := req.Stock.Joined().OverlapMM
	length := a.box.Height()
	if s := req.Stock; s.Form == workshop.Roll && s.LengthMM > 0 {
		length = min(length, s.LengthMM-s.LeadMM-s.TailMM)
	}
	grid := func(w, h float64) [2]int {
		return [2]int{nest.Panels(w, a.box.Width(), overlap), nest.Panels(h, length, overlap)}
	}
	best, turned := grid(b.Width(), b.Height()), false
	if q := grid(b.Height(), b.Width()); q[0]*q[1] > 0 && (q[0]*q[1] < best[0]*best[1] || best[0]*best[1] == 0) {
		best, turned = q, true
	}
	nearest, advice := nearest(b, req)
	l.Findings = append(l.Findings, finding.New(finding.OffTheStock, 1, finding.Values{
		"width_mm": finding.Num(b.Width()), "height_mm": finding.Num(b.Height()),
		"usable_width_mm": finding.Num(a.box.Width()), "usable_length_mm": finding.Num(length),
		"overlap_mm": finding.Num(overlap), "turned": finding.Truth(turned),
		"panels_across": finding.Int(best[0]), "panels_along": finding.Int(best[1]), "panels": finding.Int(best[0] * best[1]),
		"nearest": finding.Text(nearest), "advice": finding.Text(advice),
	}, finding.Place{Box: b}))
}
