package api

import (
	"net/url"

	"knifedesk/db"
	"knifedesk/jobs/queue/trials"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

func showStanding(s trial.Standing) Standing {
	return Standing{
		State: SettingState(s.State), Text: view.StandingText(s), Good: s.Good, Last: s.Last, Batch: s.Batch,
		Lowered: StandingLowered(s.Lowered),
	}
}

func showWindow(w trial.Window) Window {
	return Window{From: w.From, To: w.To, Below: w.Below, Above: w.Above}
}

func showTrial(k trials.Kept) Trial {
	cells := make([]TriedCell, len(k.Cells))
	for i, c := range k.Cells {
		cells[i] = TriedCell{Number: i + 1, ForceGF: c.ForceGF, SpeedMMS: c.SpeedMMS, Verdict: TriedCellVerdict(c.Verdict)}
	}
	return Trial{
		ID: k.ID, SettingID: k.Setting, StockID: k.StockID, MachineID: k.MachineID, Operation: Operation(k.Operation), Aim: TrialAim(k.Aim),
		Cells: cells, Marks: maybe(k.Marks, showMarks), Batch: k.Batch, Blade: k.Blade, TestedBy: k.Tester, Day: k.Day, Proof: k.Proof, CreatedAt: k.Created,
	}
}

func showMarks(m trial.Marks) Marks { return Marks{AcrossMM: m.AcrossMM, AlongMM: m.AlongMM} }

func readMarks(m Marks) trial.Marks { return trial.Marks{AcrossMM: m.AcrossMM, AlongMM: m.AlongMM} }

// testCutPath is where a file of the test cut of a setting is.
func testCutPath(setting, stock, machine, file string) string {
	return "/v1/settings/" + setting + "/test-cut/" + file + "?" + url.Values{"stock_id": {stock}, "machine_id": {machine}}.Encode()
}

// showPassOf shows a pass with where the test cut is that its setting needs first.
func showPassOf(r view.Request, p view.Pass) PassSummary {
	out := showPassSummary(p)
	if s := p.Standing; s != nil && (s.State == trial.Untested || s.Lowered != "") {
		out.TestCut = testCutPath(p.Setting, r.Stock, r.Machine, "sheet.json")
	}
	return out
}

func showFittedBlade(b workshop.FittedBlade) FittedBlade {
	return FittedBlade{ID: b.ID, MachineID: b.MachineID, BladeID: b.BladeID, Work: FittedBladeWork(b.Work), OffsetMM: b.OffsetMM, FittedOn: b.FittedOn}
}

func readFittedBlade(b FittedBlade) (workshop.FittedBlade, error) {
	return workshop.FittedBlade{ID: b.ID, MachineID: b.MachineID, BladeID: b.BladeID, Work: workshop.Work(b.Work), OffsetMM: b.OffsetMM, FittedOn: b.FittedOn}, nil
}

// showWorn shows a blade with how far it has cut.
func showWorn(b workshop.FittedBlade, worn []db.Wear) FittedBlade {
	const mmInMetre = 1000
	out := showFittedBlade(b)
	for _, w := range worn {
		if w.Machine == b.MachineID && w.Blade == b.ID {
			if out.CutM == nil {
				out.CutM = map[string]float64{}
			}
			out.CutM[w.Family] = float64(w.CutMM) / mmInMetre
		}
	}
	return out
}
