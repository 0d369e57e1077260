package view

import (
	"fmt"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// maxPassRows is how many passes the worksheet has room for.
const maxPassRows = 10

// passColumns are the columns of the pass table with their widths in mm.
var passColumns = [...]struct {
	title string
	width float64
}{{"load", 11}, {"pass", 11}, {"operation", 26}, {"tool", 40}, {"gf", 13}, {"mm/s", 13}, {"times", 13}, {"mm cut", 17}, {"setting", 42}}

// passes writes the table of what is set at the machine, a row a pass.
func (s *sheet) passes() {
	s.text(8, true)
	s.SetFillColor(0xf5, 0xec, 0xd7)
	for _, c := range passColumns {
		s.CellFormat(c.width, 5, c.title, "1", 0, "C", true, 0, "")
	}
	s.Ln(5)
	s.text(8, false)
	rows, more := s.passRows()
	for _, cells := range rows {
		for i, c := range passColumns {
			s.CellFormat(c.width, 5, cells[i], "1", 0, "C", false, 0, "")
		}
		s.Ln(5)
	}
	if more > 0 {
		s.CellFormat(column, 5, fmt.Sprintf("and %d more: see the plan", more), "", 1, "L", false, 0, "")
	}
	s.Ln(2)
}

// passRows returns the cells of the passes that there is room for, and how many
// more there are.
func (s *sheet) passRows() (rows [][len(passColumns)]string, more int) {
	machine := s.about.Request.Machine
	for i, load := range s.view.Passes.Loads {
		if s.view.Layout.Loads[i].Panel != s.panel {
			continue
		}
		for _, p := range load.Passes {
			if len(rows) == maxPassRows {
				more++
				continue
			}
			set := p.Setting
			rows = append(rows, [...]string{fmt.Sprint(load.Number), fmt.Sprint(p.Number), p.Operation.Words(), toolText(p, machine),
				short(set.ForceGF), short(set.SpeedMMS), fmt.Sprint(set.Passes), fmt.Sprintf("%.0f", p.CutMM), testedText(set)})
		}
	}
	return rows, more
}

// toolText says what belongs in the holder for a pass: a setting may need
// another blade than the one that is in it.
func toolText(p passes.Pass, m workshop.Machine) string {
	switch p.Operation {
	case artwork.Pen:
		return "pen"
	case artwork.Score:
		return "scoring tip"
	}
	blade, ok := m.BladeFor(p.Setting)
	if !ok {
		return "blade " + p.Setting.BladeID + " (not here)"
	}
	return fmt.Sprintf("blade %s°, %s mm offset", short(blade.AngleDeg), short(blade.OffsetMM))
}

// testedText says who tested a setting, or that nobody did.
func testedText(s workshop.Setting) string {
	switch {
	case s.TestedBy == "":
		return "start point: test first"
	case s.TestedOn == "":
		return "tested by " + s.TestedBy
	}
	return "tested by " + s.TestedBy + ", " + s.TestedOn
}
