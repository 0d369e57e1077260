package api

import "knifedesk/jobs/passes"

func showPasses(p *passes.Plan) Passes {
	return Passes{
		Loads: each(p.Loads, showPassLoad), Time: showMachineTime(p.Time),
		CutMM: p.CutMM, TravelMM: p.TravelMM, Lifts: p.Lifts, Findings: showFindings(p.Findings),
	}
}

func showPassLoad(l passes.Load) PassLoad {
	return PassLoad{Number: l.Number, Passes: each(l.Passes, showPass)}
}

func showPass(p passes.Pass) Pass {
	return Pass{
		Number: p.Number, Operation: Operation(p.Operation), Setting: showSetting(p.Setting), Runs: each(p.Runs, showRun),
		CutMM: p.CutMM, TravelMM: p.TravelMM, Lifts: p.Lifts,
		CutS: p.CutS, TravelS: p.TravelS, MotionS: p.MotionS, PauseS: p.PauseS,
	}
}

func showRun(r passes.Run) Run {
	return Run{Copy: r.Copy, Stroke: r.Stroke, Start: r.Start, Reversed: r.Reversed, At: showPoint(r.At)}
}

func showMachineTime(t passes.Time) MachineTime {
	return MachineTime{
		LoadS: t.LoadS, TestS: t.TestS, CutS: t.CutS, TravelS: t.TravelS, LiftS: t.LiftS, PauseS: t.PauseS, UnloadS: t.UnloadS,
	}
}
