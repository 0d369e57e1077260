package view

import (
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// mapOn returns the weeding map of what lies on a load, from 1: of its panel, or of the
// piece.
func (r *Results) mapOn(load int) *weeding.Map {
	if r.Layout == nil || load < 1 || load > len(r.Layout.Loads) {
		return r.Weeding
	}
	return r.Layout.MapOf(&r.Layout.Loads[load-1], r.Weeding)
}

// Panelled reports whether the piece is made of panels.
func (r *Results) Panelled() bool { return r.Layout != nil && r.Layout.Panels != nil }

// ofPanels is the digest of what is weeded where a piece is made of panels: of all of
// them together; nil where it is made whole.
func ofPanels(p *layout.Panels) *Weeding {
	if p == nil {
		return nil
	}
	sum := &Weeding{}
	for i := range p.List {
		w := OfWeeding(p.List[i].Map).Weeding
		sum.Kept += w.Kept
		sum.Surrounds += w.Surrounds
		sum.Grounds += w.Grounds
		sum.Counters += w.Counters
		sum.Fragile += w.Fragile
		sum.ReliefLines += w.ReliefLines
		sum.Bridges += w.Bridges
		sum.Risk = w.Risk
	}
	sum.Effort = p.Effort()
	return sum
}
