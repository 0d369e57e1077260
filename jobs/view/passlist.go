package view

import (
	"fmt"
	"strings"

	"knifedesk/geometry/drawing/hpgl"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/passes"
)

// PassList is what is set at the machine for one load, pass by pass.
type PassList struct {
	Load     int
	WidthMM  float64 // the page of all files of the load
	LengthMM float64
	Axes     string // how the files are laid
	Carries  string // as by Carried
	Passes   []PassLine
}

// PassLine is one pass of a PassList.
type PassLine struct {
	Pass    passes.Pass // without its runs
	Layer   string      // in DXF and SVG files
	Pen     int         // in plotter files
	Tool    string
	Strokes int
	Carries string
	Steps   []string // what is left to the operator before the pass
}

// ListPasses returns the list of a load, numbered from 1. It fails where there is
// no such load, and with ErrAsked.
func (v *Results) ListPasses(load int) (*PassList, error) {
	if v.Passes == nil || load < 1 || load > len(v.Passes.Loads) {
		return nil, fmt.Errorf("view: there is no load %d", load)
	}
	if len(v.Passes.Questions) > 0 {
		return nil, ErrAsked
	}
	all, sheet := v.Passes.Loads[load-1].Passes, v.Layout.Loads[load-1]
	list := &PassList{Load: load, WidthMM: sheet.WidthMM, LengthMM: sheet.LengthMM, Axes: v.Passes.Axes.Words(), Carries: Carried(all)}
	for i := range all {
		line := PassLine{
			Pass: all[i], Layer: passName(&all[i]), Pen: all[i].Number, Tool: all[i].Tool(),
			Strokes: all[i].Lines(), Carries: Carried(all[i : i+1]), Steps: stepsBefore(all, i),
		}
		line.Pass.Runs = nil
		list.Passes = append(list.Passes, line)
	}
	return list, nil
}

// stepsBefore says what the operator does before a pass: the tool, what the
// machine is told about it, and what no file says.
func stepsBefore(all []passes.Pass, i int) []string {
	p := &all[i]
	var steps []string
	if i == 0 || p.Changed {
		steps = append(steps, "Put in: "+p.Tool()+".")
	}
	if told := machineTold(all, i); told != "" {
		steps = append(steps, told)
	}
	if p.LeadIn == nil && p.LeadInAlone == nil && p.Rule.InFile().OffsetMM > 0 {
		steps = append(steps, turnedByHand(i == 0 || p.Changed))
	}
	switch {
	case p.Mark != nil:
		steps = append(steps, markText(p))
	case p.NoMark:
		steps = append(steps, "There is no room for a test mark: make a test cut of this batch first, as the setting is not trusted for it.")
	}
	if p.Turns > 0 {
		steps = append(steps, turnsText(p))
	}
	const byFile = "; a plotter file sets it by itself"
	force := fmt.Sprintf("Set the force to %s gf", short(p.Setting.ForceGF))
	if p.ForceSteps > 0 {
		force += byFile
	}
	speed := fmt.Sprintf("Set the speed to %s mm/s", short(p.Setting.SpeedMMS))
	if saysSpeeds(all) {
		speed += byFile
	}
	return append(steps, force+".", speed+".")
}

// turnedByHand says that a blade has to be turned where there is no room for a lead-in: at
// the first pass of the blade on the load. After that the file of the load takes it to stand
// as the pass before has left it, so it must not be touched but for a file of the pass alone.
func turnedByHand(first bool) string {
	if first {
		return "Turn the blade by hand into the direction of the first line: there is no waste to do it in."
	}
	return "Where it is cut alone, turn the blade by hand into the direction of the first line; with the passes before, leave it as it stands."
}

// markText says where a test mark is cut and what to do with it, in a line.
func markText(p *passes.Pass) string {
	at := p.Mark.Box.Min
	return fmt.Sprintf("Pass %d, test mark, %.0f mm from the left, %.0f mm from the loading edge: alone first; go on only where it comes out clean.", p.Number, at.X, at.Y)
}

// turnsText says where the cutter turns a lifted knife.
func turnsText(p *passes.Pass) string {
	return fmt.Sprintf("At %d of the corners, below %s°, the file lifts the knife: have the cutter turn it there.", p.Turns, short(p.Rule.LiftBelowDeg))
}

// machineTold says what a machine is told before a pass about the offset of the
// blade; "" where it was told the same for a pass before.
func machineTold(all []passes.Pass, i int) string {
	told := ""
	for k := range all[:i] {
		if now := offsetTold(&all[k].Rule); now != "" {
			told = now
		}
	}
	if now := offsetTold(&all[i].Rule); now != told {
		return now
	}
	return ""
}

// offsetTold says how a machine's own blade offset is set for a rule: to its value
// where the machine makes up for the knife by itself, and to none where the file does;
// "" where it is all the same.
func offsetTold(r *toolpath.Rule) string {
	switch {
	case !r.OffsetByMachine && r.OffsetMM > 0:
		return "Leave any blade offset of the cutter at 0: the file has it."
	case !r.OffsetByMachine:
		return ""
	case r.OffsetMM == 0 && r.OvercutByMachine:
		return "Set the cutter's blade offset and overcut to 0: this tool does not trail."
	case r.OffsetMM == 0:
		return "Set the cutter's blade offset to 0: this tool does not trail."
	}
	told := fmt.Sprintf("Set the cutter's blade offset to %s mm", short(r.OffsetMM))
	if r.OvercutByMachine {
		told += fmt.Sprintf(" and its overcut to %s mm", short(r.OvercutMM))
	}
	return told + "."
}

// filesText says for the worksheet what the files of a plan hold of the knife's way
// and how they are laid, by the passes of the first load.
func filesText(p *passes.Plan) string {
	if len(p.Loads) == 0 {
		return "none"
	}
	text := Carried(p.Loads[0].Passes) + "; " + p.Axes.Words()
	if !saysSpeeds(p.Loads[0].Passes) {
		text += "; set speeds by hand"
	}
	return text
}

// saysSpeeds reports whether a plotter file of the load says its speeds.
func saysSpeeds(all []passes.Pass) bool {
	pens := make([]hpgl.Pen, len(all))
	for i := range all {
		pens[i].SpeedMMS = all[i].Setting.SpeedMMS
	}
	return hpgl.SaysSpeeds(pens)
}

// passWords says what a pass does.
func passWords(p *passes.Pass) string {
	if p.Mark != nil {
		return p.Operation.Words() + ", test mark"
	}
	return p.Operation.Words()
}

// Text writes the list for a person.
func (l *PassList) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Load %d, page %s × %s mm: %s\nIn the files %s.\n", l.Load, short(l.WidthMM), short(l.LengthMM), l.Carries, l.Axes)
	for i := range l.Passes {
		p := &l.Passes[i]
		s := p.Pass.Setting
		fmt.Fprintf(&b, "\nPass %d: %s, layer %s, pen %d\n", p.Pass.Number, passWords(&p.Pass), p.Layer, p.Pen)
		fmt.Fprintf(&b, "  %s; %s gf, %s mm/s, each line %d×; %d strokes, %.0f mm", p.Tool, short(s.ForceGF), short(s.SpeedMMS), p.Pass.Rule.Rounds, p.Strokes, p.Pass.CutMM)
		if r := p.Pass.Rule; r.DashMM > 0 {
			fmt.Fprintf(&b, "; cuts of %s mm, %s mm left between", short(r.DashMM), short(r.TieMM))
		}
		fmt.Fprintf(&b, "; %s\n", p.Carries)
		for _, step := range p.Steps {
			fmt.Fprintf(&b, "  - %s\n", step)
		}
	}
	return b.String()
}
