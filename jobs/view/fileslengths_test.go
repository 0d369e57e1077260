package view_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// ran is how far a tool goes along the lines of a pass, one after the other, in mm.
type ran struct {
	cut, travel float64 // of the tip with the tool down; of the axis with it up
	lifts       int
}

// travels adds the way of the axis to each line from where the one before has ended, and
// returns where the last one ends.
func (r *ran) travels(at geometry.Point, lines []geometry.Path) geometry.Point {
	for _, l := range lines {
		r.travel += at.Dist(l.Start)
		at, r.lifts = l.End(), r.lifts+1
	}
	return at
}

// addedByMachine is what a machine adds by itself to the strokes of a pass: it goes on past
// each closure, and its axis keeps ahead of the line by the offset. Above is how far that
// can change the ways between lines.
func (m *meantPass) addedByMachine(blade workshop.Blade, by workshop.Compensation, lifts int) (cut, above float64) {
	for _, s := range m.strokes {
		if by.Overcut() && s.line.Closed {
			cut += math.Min(blade.OvercutMM, s.line.Length())
		}
	}
	if by.Offset() {
		above = 2 * blade.OffsetMM * float64(lifts)
	}
	if by.Overcut() {
		above += 2 * cut
	}
	return cut, above
}

// holdRun compares what is run by a file of a load with what its plan says of a pass: what
// the knife cuts and what the axis travels above the stock, the lead-in with it where one
// is run.
func (p *planned) holdRun(t *testing.T, where string, format view.Format, load, i int, m *meantPass, got ran) {
	t.Helper()
	pass := &p.Passes.Loads[load].Passes[i]
	cut, above := 0.0, 0.0
	if blade, ok := p.bladeOf(pass); ok && pass.Blade != "" {
		if pass.Operation == artwork.Score {
			blade.OvercutMM = 0
		}
		cut, above = m.addedByMachine(blade, p.request.Machine.Compensates, got.lifts)
	}
	// The tip leaves its line by 0.005 mm where turns are left out, and is late by as much;
	// a format of whole units shifts each point of it, so that its chords go to and fro.
	each, along := 0.02, 3e-4
	if format == view.Plt {
		each, along = 0.1, 1e-2
	}
	if off := math.Abs(got.cut + cut - pass.CutMM); !(off <= along*pass.CutMM+each*float64(got.lifts)) {
		t.Errorf("%s: %.3f mm are cut, and %.3f by the machine itself; the plan has %.3f", where, got.cut, cut, pass.CutMM)
	}
	if off := math.Abs(got.travel - pass.TravelMM); !(off <= above+each*float64(got.lifts)) {
		t.Errorf("%s: %.3f mm are travelled, the plan has %.3f", where, got.travel, pass.TravelMM)
	}
	if got.lifts != pass.Lifts {
		t.Errorf("%s: %d lines, the plan has %d lifts", where, got.lifts, pass.Lifts)
	}
}

// holdLeadIn holds that the lines of a file begin with the lead-in that the plan says, or
// with none: in a load with that of the pass, in a file of the pass alone else with that
// which is for such files only.
func (p *planned) holdLeadIn(t *testing.T, where string, load, i int, alone bool, onto geometry.Affine, lines []geometry.Path) {
	t.Helper()
	pass := &p.Passes.Loads[load].Passes[i]
	lead := pass.LeadIn
	if lead == nil && alone {
		lead = pass.LeadInAlone
	}
	if pass.LeadIn != nil && pass.LeadInAlone != nil {
		t.Errorf("%s: the plan has two lead-ins", where)
	}
	if lead == nil || len(lines) == 0 {
		return
	}
	if from, to := onto.Apply(lead.From), onto.Apply(lead.To); lines[0].Start.Dist(from) > 0.05 || lines[0].End().Dist(to) > 0.05 {
		t.Errorf("%s: it begins from %v to %v, and not with the lead-in from %v to %v", where, lines[0].Start, lines[0].End(), from, to)
	}
}

// holdSums holds that the plan, the estimate and the view have the sum of the passes.
func (p *planned) holdSums(t *testing.T) {
	t.Helper()
	cut, travel, told := 0.0, 0.0, 0.0
	for _, load := range p.Passes.Loads {
		for i := range load.Passes {
			cut, travel = cut+load.Passes[i].CutMM, travel+load.Passes[i].TravelMM
		}
	}
	blade := 0.0
	for _, line := range p.Estimate.Lines {
		if line.Code == estimate.Blade {
			blade = line.Quantity.InexactFloat64()
		}
	}
	for _, pass := range view.Gather(p.status, p.request, nil, p.parts).Passes {
		told += pass.CutMM
	}
	if math.Abs(p.Passes.CutMM-cut) > 1e-6 || math.Abs(p.Passes.TravelMM-travel) > 1e-6 || math.Abs(told-cut) > 1e-6 || math.Abs(1000*blade-cut) > 1 {
		t.Errorf("%.3f mm are cut in the passes, %.3f in the plan, %.3f in what is priced, %.3f in what is shown; travels %.3f and %.3f",
			cut, p.Passes.CutMM, 1000*blade, told, travel, p.Passes.TravelMM)
	}
}
