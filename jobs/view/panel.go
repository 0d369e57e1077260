package view

import (
	"cmp"
	"fmt"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// MapOn returns the weeding map of what lies on a load, from 1: its own, or that of the
// piece.
func (r *Results) MapOn(load int) *weeding.Map {
	if r.Layout == nil || load < 1 || load > len(r.Layout.Loads) {
		return r.Weeding
	}
	return r.Layout.MapOf(&r.Layout.Loads[load-1], r.Weeding)
}

// Panelled reports whether the piece is made of panels.
func (r *Results) Panelled() bool { return r.Layout != nil && r.Layout.Panels != nil }

// ofMaps is the digest of what is weeded by maps that loads have of their own: of all of
// them together; nil where the map is that of the piece.
func ofMaps(l *layout.Layout) *Weeding {
	if len(l.Maps) == 0 {
		return nil
	}
	sum := &Weeding{}
	for _, m := range l.Maps {
		w := OfWeeding(m).Weeding
		sum.Kept += w.Kept
		sum.Surrounds += w.Surrounds
		sum.Grounds += w.Grounds
		sum.Counters += w.Counters
		sum.Fragile += w.Fragile
		sum.ReliefLines += w.ReliefLines
		sum.Bridges += w.Bridges
		sum.Risk = cmp.Or(sum.Risk, w.Risk) // what is said of one load holds though another has none
	}
	sum.Effort = l.Effort(weeding.Effort{})
	return sum
}

// panel says of the load of a page which panel lies on it.
func (s *sheet) panel(load int) {
	if p := s.view.Layout.PanelOf(&s.view.Layout.Loads[load]); p != nil {
		s.fact(leftWidth, "Panel", fmt.Sprintf("%s, %s × %s mm", p.Code, short(p.Box.Width()), short(p.Box.Height())))
	}
}

// panelTicks says what is done with a panel before it is joined to the others.
func (s *sheet) panelTicks(load int) {
	p := s.view.Layout.PanelOf(&s.view.Layout.Loads[load])
	if p == nil {
		return
	}
	if !p.Coded {
		s.tick(column, "Mark it "+p.Code+" on its back before anything else.")
	}
	switch {
	case p.Marks > 0 && s.view.Layout.Panels.Join.Joint == workshop.Tab:
		s.tick(column, "Glue the next panel on so that its edge comes to where the short slits in the tab begin: it covers them.")
	case p.Marks > 0:
		s.tick(column, "Keep its register marks until the panels lie on each other, then take them off.")
	}
}

// join says, where the work is put in its place, in which order its panels are joined:
// under the heading of the tape or the press, or under one of its own.
func (s *sheet) join(width float64) {
	if !s.view.Panelled() {
		return
	}
	if s.about.Request.Stock.Family != workshop.HeatFilm && s.view.Layout.Usage.TapeM == 0 {
		s.heading(width, "Put up")
	}
	s.tick(width, s.view.Layout.Panels.Hang())
}
