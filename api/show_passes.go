package api

import (
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/view"
)

func showPasses(p *passes.Plan) Passes {
	return Passes{
		Loads: each(p.Loads, showPassLoad), Axes: showAxes(p.Axes), Time: showMachineTime(p.Time),
		CutMM: p.CutMM, TravelMM: p.TravelMM, Lifts: p.Lifts,
		Findings: showFindings(p.Findings), Questions: showQuestions(p.Questions),
	}
}

func showPassLoad(l passes.Load) PassLoad {
	return PassLoad{Number: l.Number, Passes: each(l.Passes, showPass)}
}

func showPass(p passes.Pass) Pass {
	return Pass{
		Number: p.Number, Operation: Operation(p.Operation), Setting: showSetting(p.Setting),
		Blade: p.Blade, Rule: showPassRule(p.Rule), ForceSteps: p.ForceSteps, Changed: p.Changed, LeadIn: showLeadIn(p.LeadIn), LeadInAlone: showLeadIn(p.LeadInAlone), TestMark: showMark(p.Mark), NoTestMark: p.NoMark, Runs: each(p.Runs, showRun),
		CutMM: p.CutMM, TravelMM: p.TravelMM, Lifts: p.Lifts, Turns: p.Turns,
		CutS: p.CutS, TravelS: p.TravelS, MotionS: p.MotionS, PauseS: p.PauseS,
	}
}

func showPassRule(r toolpath.Rule) PassRule {
	return PassRule{
		OffsetMM: r.OffsetMM, OvercutMM: r.OvercutMM, LiftBelowDeg: r.LiftBelowDeg, DashMM: r.DashMM, TieMM: r.TieMM, Rounds: r.Rounds,
		OffsetByMachine: r.OffsetByMachine, OvercutByMachine: r.OvercutByMachine,
	}
}

func showLeadIn(l *toolpath.LeadIn) *LeadIn {
	if l == nil {
		return nil
	}
	return &LeadIn{From: showPoint(l.From), To: showPoint(l.To)}
}

func showMark(m *passes.Mark) *Box {
	if m == nil {
		return nil
	}
	return ptr(showBox(m.Box))
}

func showPassList(l *view.PassList) PassList {
	return PassList{Load: l.Load, WidthMM: l.WidthMM, LengthMM: l.LengthMM, Axes: l.Axes, Carries: l.Carries, Passes: each(l.Passes, showPassLine)}
}

func showPassLine(l view.PassLine) PassLine {
	p := l.Pass
	return PassLine{
		Number: p.Number, Layer: l.Layer, Pen: l.Pen, Operation: Operation(p.Operation),
		Tool: l.Tool, Blade: p.Blade, OffsetMM: p.Rule.OffsetMM, ForceGF: p.Setting.ForceGF, SpeedMMS: p.Setting.SpeedMMS,
		Rounds: p.Rule.Rounds, Turns: p.Turns, DashMM: p.Rule.DashMM, TieMM: p.Rule.TieMM, Strokes: l.Strokes, CutMM: p.CutMM,
		Carries: l.Carries, Steps: l.Steps,
	}
}

func showRun(r passes.Run) Run {
	return Run{Copy: r.Copy, Stroke: r.Stroke, Start: r.Start, Along: r.Along, Reversed: r.Reversed, BeforeMM: r.BeforeMM, AfterMM: r.AfterMM, At: showPoint(r.At)}
}

func showMachineTime(t passes.Time) MachineTime {
	return MachineTime{
		LoadS: t.LoadS, TestS: t.TestS, CutS: t.CutS, TravelS: t.TravelS, LiftS: t.LiftS, PauseS: t.PauseS, UnloadS: t.UnloadS,
	}
}
