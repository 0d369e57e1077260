package view

import (
	"fmt"

	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/share"
)

// OfShare is the digest of common loads.
func OfShare(s *share.Share) Digest { return OfLayout(&s.Layout) }

// who lists the codes of the drawings that share a load, or the numbers of the copies of
// one, by their places.
func who(s *sheet, load int) {
	l := &s.view.Layout.Loads[load]
	rows := l.Rows()
	if len(rows) == 0 {
		return
	}
	title := "Who is where"
	if l.Numbered() {
		title = "Which copy is where"
	}
	s.heading(column, title+": rows from the loading edge, each from the left")
	for i, row := range rows {
		s.fact(column, fmt.Sprintf("Row %d", i+1), layout.Names(row))
	}
	if l.Numbered() {
		return
	}
	if s.about.Request.Stock.Liner {
		s.tick(column, "Write each code on the liner behind its work before they are cut apart.")
		return
	}
	s.tick(column, "Write its code on the back of each before it is taken off the sheet.")
}

// Load returns the results of one load, from 1, as if it were the only one; t is what it
// takes.
func (v *Results) Load(number int, t estimate.LoadTime) *Results {
	one := *v
	one.Estimate = &estimate.Estimate{BenchMin: t.Bench, CutterMin: t.Cutter()}
	if v.Layout != nil && number <= len(v.Layout.Loads) {
		l := *v.Layout
		if number < len(l.Loads) { // which is where it is left
			l.Usage.Offcut, l.Usage.OffcutFullWidth = nil, nil
		}
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
