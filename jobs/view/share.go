package view

import (
	"fmt"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/share"
)

// OfShare is the digest of common loads: of a layout whose copies are all that lie on it.
func OfShare(s *share.Share) Digest {
	d := OfLayout(&s.Layout)
	d.Layout.Copies = 0
	for _, l := range s.Loads {
		d.Layout.Copies += len(l.Places)
	}
	return d
}

// who lists the codes of the drawings that share a load, by their places.
func who(s *sheet, load int) {
	rows := s.view.Layout.Loads[load].Rows()
	if len(rows) == 0 {
		return
	}
	s.heading(column, "Who is where: rows from the loading edge, each from the left")
	for i, row := range rows {
		s.fact(column, fmt.Sprintf("Row %d", i+1), layout.Names(row))
	}
	s.tick(column, "Write its code on the back of each before it is taken off the sheet.")
}

// Load returns the results of one load, from 1, as if it were the only one.
func (v *Results) Load(number int) *Results {
	one := *v
	if v.Layout != nil && number <= len(v.Layout.Loads) {
		l := *v.Layout
		l.Loads = l.Loads[number-1 : number]
		one.Layout = &l
	}
	if v.Passes != nil && number <= len(v.Passes.Loads) {
		p := *v.Passes
		p.Loads = p.Loads[number-1 : number]
		one.Passes = &p
	}
	return &one
}
