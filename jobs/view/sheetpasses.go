package view

import (
	"fmt"
	"strings"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
)

// cut writes the passes of a load, each with what is set for it in digits that are
// read from the machine, and with the changes of tools where they fall.
func (s *sheet) cut(load int) {
	const lowest = 200.0 // mm from the top: what follows needs the rest
	all := s.view.Passes.Loads[load].Passes
	s.heading(column, "Cut, one pass after the other")
	for i := range all {
		if s.y > lowest {
			s.text(bodySize, false)
			s.line(sheetMargin+6, column-6, bodyLine, fmt.Sprintf("and %d more: see the plan", len(all)-i))
			return
		}
		if i > 0 && all[i].Changed || i == 0 && changedAfterTest(all) {
			s.tick(column, "Pause: take the tool out, cap it, put in the next.")
		}
		for _, step := range toolSteps(all, i) {
			s.tick(column, step)
		}
		if all[i].Mark == nil { // else it is set as the pass after it
			s.pass(&all[i])
		}
	}
}

// columns of a pass with where each starts, in mm from the left margin.
const (
	passAt, operationAt, bladeAt, forceAt, speedAt, timesAt = 6, 18, 62, 104, 136, 170
	passHeight                                              = 10.0
)

// pass writes one pass: its number, what it does, and its settings large.
func (s *sheet) pass(p *passes.Pass) {
	big := func(x float64, value, unit string) {
		s.text(bigSize, true)
		s.SetXY(sheetMargin+x, s.y)
		s.CellFormat(10, passHeight, value, "", 0, "L", false, 0, "")
		w := s.GetStringWidth(value) + 1.8
		s.text(bodySize, false)
		s.SetXY(sheetMargin+x+w, s.y+3.4)
		s.CellFormat(10, bodyLine, unit, "", 0, "L", false, 0, "")
	}
	s.SetLineWidth(0.5)
	s.Rect(sheetMargin+passAt, s.y, column-passAt, passHeight, "D")
	big(passAt+2, fmt.Sprint(p.Number), "")
	s.text(bodySize, true)
	s.SetXY(sheetMargin+operationAt, s.y+1)
	s.CellFormat(bladeAt-operationAt, bodyLine, p.Operation.Words(), "", 0, "L", false, 0, "")
	s.text(smallSize, false)
	s.SetXY(sheetMargin+operationAt, s.y+5.4)
	s.CellFormat(bladeAt-operationAt, smallLine, s.fit(testedText(s.about.Request, p), bladeAt-operationAt-2), "", 0, "L", false, 0, "")
	value, unit := s.blade(p)
	big(bladeAt, value, unit)
	big(forceAt, short(p.Setting.ForceGF), "gf")
	big(speedAt, short(p.Setting.SpeedMMS), "mm/s")
	big(timesAt, fmt.Sprint(max(1, p.Setting.Passes))+"×", "")
	s.y += passHeight + 1.2
}

// blade names what is in the holder for a pass: a setting may need another blade
// than the one that is in it.
func (s *sheet) blade(p *passes.Pass) (value, unit string) {
	set := p.Setting
	switch {
	case p.Operation == artwork.Pen:
		return "pen", ""
	case p.Operation == artwork.Score && p.Blade == "":
		return "tip", "to score"
	case p.Operation == artwork.Score:
		set.BladeID = p.Blade // that of the cut
	}
	blade, ok := s.about.Request.Machine.BladeFor(set)
	if !ok {
		return "?", "blade " + p.Setting.BladeID + ": not here"
	}
	return short(blade.AngleDeg) + "°", blade.ID
}

// toolSteps says what is done with the tool and the machine before a pass.
func toolSteps(all []passes.Pass, i int) []string {
	steps := stepsBefore(all, i)
	steps = steps[:len(steps)-2] // the last two are its force and its speed, which stand large beside
	if i == 0 && tested(all) != nil && !changedAfterTest(all) {
		return steps[1:] // the tool is in since the test
	}
	return steps
}

// changedAfterTest reports whether the first pass has another tool than the test cut.
func changedAfterTest(all []passes.Pass) bool {
	p := tested(all)
	return p != nil && len(all) > 0 && p.Tool() != all[0].Tool()
}

// testedText says how a setting stood when the plan was sent. Who tested it is on
// nobody's wall.
func testedText(r *plan.Request, p *passes.Pass) string {
	set := p.Setting
	now, ok := r.Standings[set.ID]
	if !ok && set.TestedBy != "" { // a plan of a program that knew no test cuts
		now = trial.Standing{State: trial.Tested, Last: set.TestedOn}
	}
	switch {
	case now.State != trial.Tested && now.State != trial.Trusted && p.Operation == artwork.Pen:
		return "untested: draw in the waste first"
	case now.State != trial.Tested && now.State != trial.Trusted:
		return "untested: test cut first"
	case now.Lowered != "":
		return "tested: cut one cell again"
	case now.Last == "":
		return string(now.State)
	}
	return string(now.State) + " " + now.Last
}

// tools lists what is put into the holder for a load, in order.
func tools(all []passes.Pass) string {
	var names []string
	for i := range all {
		if n := all[i].Tool(); len(names) == 0 || names[len(names)-1] != n {
			names = append(names, n)
		}
	}
	return strings.Join(names, "; ")
}
