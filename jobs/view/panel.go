package view

import (
	"fmt"
	"strings"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// MapOn returns the weeding map of what lies on a load, from 1: of its panel, or of the
// piece.
func (r *Results) MapOn(load int) *weeding.Map {
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

// panels lists the panels of a plan by number, from 1; 0 alone where the piece is whole.
func (r *Results) panels() []int {
	if !r.Panelled() {
		return []int{0}
	}
	all := make([]int, len(r.Layout.Panels.List))
	for i := range all {
		all[i] = i + 1
	}
	return all
}

// weeding is the map of what the page is about.
func (s *sheet) weeding() *weeding.Map {
	if s.panel == 0 {
		return s.view.Weeding
	}
	return s.view.Layout.Panels.List[s.panel-1].Map
}

// panelRows are the facts about the panel of the page.
func (s *sheet) panelRows() [][2]string {
	if s.panel == 0 {
		return nil
	}
	box, loads := s.view.Layout.Panels.List[s.panel-1].Box, ""
	for _, load := range s.view.Layout.Loads {
		if load.Panel == s.panel {
			loads += fmt.Sprintf(" %d", load.Number)
		}
	}
	return [][2]string{{"Panel", fmt.Sprintf("%s × %s mm, cut on load%s; what is issued and the time are those of all panels", short(box.Width()), short(box.Height()), loads)}}
}

// panelItems are what is to be ticked off for the panel of the page.
func (s *sheet) panelItems() []string {
	if s.panel == 0 {
		return nil
	}
	one := s.view.Layout.Panels.List[s.panel-1]
	items := []string{strings.TrimSuffix(s.view.Layout.Panels.Hang(), ".")}
	if !one.Coded {
		items = append(items, "Marked "+one.Code+" on its back before anything else")
	}
	if one.Marks > 0 {
		items = append(items, "Register marks kept until the panels lie on each other, then taken off")
	}
	return items
}
