package local_test

import (
	"fmt"

	"knifedesk/geometry/drawing/dxf"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// machineFaults are about the machine, the hold and the stock. In most of them
// the drawing is the same and the workshop's data has a machine that is too
// weak, or lacks a setting.
func machineFaults() []fault {
	const box = "M10 10h40v30h-40z"
	onCut := onLayer("CUT", "#007c91", box)
	fold := func(data string) string { return page(onCut + onLayer("FOLD", "#7a3eb1", data)) }
	machines := func(change func(*workshop.Machine)) func(*workshop.Data) {
		return func(w *workshop.Data) {
			for i := range w.Machines {
				change(&w.Machines[i])
			}
		}
	}
	stocks := func(change func(*workshop.Stock)) func(*workshop.Data) {
		return func(w *workshop.Data) {
			for i := range w.Stocks {
				change(&w.Stocks[i])
			}
		}
	}
	of := func(name string, code finding.Code, severity finding.Severity, choices plan.Choices, edit func(*workshop.Data)) fault {
		return fault{name: name, with: cutting(box), near: cutting(box), choices: choices, edit: edit,
			code: code, severity: severity, count: 1}
	}
	narrow := plan.Choices{Stock: "film-removable-610", Machine: "narrow-305"}
	oneBorder := onFilm
	oneBorder.Purpose, oneBorder.Copies, oneBorder.Options.OneBorder = weeding.Lettering, 24, true
	many := onFilm
	many.Copies = 5000
	given := onCard
	given.Size.Unit = "mm"
	a4mm, a4light := given, plan.Choices{Stock: onLightCard.Stock, Size: given.Size}
	// folded is a piece of 170 mm by a height in mm with a fold.
	folded := func(height float64, data string) string {
		return drawn(dxf.Millimetres, 1, 1, layer{"CUT", fmt.Sprintf("M0 0H170V%gH0Z", height)}, layer{"FOLD", data})
	}
	whole, panelled := given, given
	whole.Options.Panels, panelled.Options.Panels = layout.PanelsRefused, layout.PanelsAllowed
	asDrawn := false
	notTurned := onHeat
	notTurned.Mirror = &asDrawn
	return []fault{
		of("no setting", finding.SettingMissing, finding.Block, onCard, func(w *workshop.Data) { w.Settings = nil }),
		{name: "marks that came out too long", with: cutting(box), near: cutting(box), choices: onCard, measured: &trial.Marks{AcrossMM: 100.1, AlongMM: 100.3},
			code: finding.LengthsOff, severity: finding.Warn, count: 1},
		of("blade missing", finding.BladeMissing, finding.Warn, onCard, machines(func(m *workshop.Machine) { m.Blades = nil })),
		of("force beyond the machine", finding.ForceOverMachine, finding.Block, onCard, machines(func(m *workshop.Machine) { m.MaxForceGF = 209 })),
		of("speed beyond the machine", finding.SpeedOverMachine, finding.Warn, onCard, machines(func(m *workshop.Machine) { m.MaxSpeedMMS = 49 })),
		of("thicker than the machine takes", finding.CaliperOverMachine, finding.Block, onCard, machines(func(m *workshop.Machine) { m.MaxCaliperUM = 274 })),
		{name: "through cut without a mat", with: cutting(box), near: cutting(box), choices: onCard, edit: stocks(func(s *workshop.Stock) { s.Hold = workshop.Rollers }),
			code: finding.ThroughWithoutMat, severity: finding.Block, count: 1, at: "0 0 40 30"},
		of("no mat", finding.NoMat, finding.Block, onCard, machines(func(m *workshop.Machine) { m.Mats = nil })),
		of("mat of another tack", finding.MatTackMissing, finding.Warn, onCard, machines(func(m *workshop.Machine) { m.Mats = m.Mats[:1] })),
		of("sheet over the mat", finding.SheetOverMat, finding.Warn, onCard, stocks(func(s *workshop.Stock) { s.LengthMM = 500 })),
		{name: "stock wider than the machine", with: cutting(box), near: cutting(box), choices: narrow, nearChoice: &onFilm,
			code: finding.MachineNarrower, severity: finding.Warn, count: 1},
		{name: "folds both ways, one of them across the grain", with: fold("M10 20h30M20 10v30"), near: fold("M10 20h40"), choices: onCard,
			code: finding.ScoreAcrossGrain, severity: finding.Warn, count: 1, at: "0 20 30 20"},
		{name: "fold across the grain that fits in no other way", with: folded(270, "M0 100h170"), near: folded(170, "M0 100h170"), choices: a4mm,
			code: finding.ScoreAcrossGrain, severity: finding.Warn, count: 1, at: "0 100 170 100"},
		{name: "fold across the grain of light card", with: folded(270, "M0 100h170"), near: folded(270, "M0 100h170"), choices: a4mm, nearChoice: &a4light,
			code: finding.ScoreAcrossGrain, severity: finding.Warn, count: 1, at: "0 100 170 100"},
		{name: "fits only across the grain", with: page(`<g transform="translate(-40 0)">` + onLayer("CUT", "#007c91", "M0 10h220v150h-220z") + onLayer("FOLD", "#7a3eb1", "M90 10v150") + `</g>`),
			near:    page(`<g transform="translate(-40 0)">` + onLayer("CUT", "#007c91", "M0 10h150v200h-150z") + onLayer("FOLD", "#7a3eb1", "M90 10v200") + `</g>`),
			choices: onCard, code: finding.FitsAcrossGrain, severity: finding.Ask, count: 1, asks: "layout/grain"},
		{name: "off the stock", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M0 0H170V100H0ZM0 310H20V320H0Z"}),
			near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M0 0H170V100H0ZM0 210H20V220H0Z"}), choices: whole,
			code: finding.OffTheStock, severity: finding.Block, count: 1, at: "0 0 170 320"},
		{name: "larger than the sheet", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M0 0H170V320H0Z"}),
			near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M0 0H170V280H0Z"}), choices: given,
			code: finding.NeedsPanels, severity: finding.Ask, count: 1, at: "0 0 170 320", asks: "layout/panels"},
		{name: "larger than the sheet, and panels allowed", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M0 0H170V320H0Z"}),
			near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M0 0H170V280H0Z"}), choices: panelled,
			code: finding.MadeInPanels, severity: finding.Warn, count: 2, at: "0 0 170 320"},
		{name: "too near the edge", with: cutting("M0 0h207v294h-207z"), near: cutting("M0 0h206v293h-206z"), choices: onCard,
			code: finding.OffTheStock, severity: finding.Block, count: 1, at: "0 0 207 294"},
		{name: "nearer to the edge than the margins", with: cutting("M0 0h201v287h-201z"), near: cutting("M0 0h200v287h-200z"), choices: onCard,
			code: finding.NearEdge, severity: finding.Warn, count: 1},
		{name: "roll too short", with: cutting(box), near: cutting(box), choices: many, nearChoice: &onFilm,
			code: finding.RollTooShort, severity: finding.Block, count: 1},
		{name: "no border round copies that have frames", with: cutting("M10 10h40v30h-40zM20 20h10v10h-10z"), near: cutting("M10 10h20v20h-20zM40 10h20v20h-20z"), choices: oneBorder,
			code: finding.NoCommonBorder, severity: finding.Warn, count: 1},
		{name: "mirroring switched off", with: cutting(box), near: cutting(box), choices: notTurned, nearChoice: &onHeat,
			code: finding.MirrorAgainstRule, severity: finding.Warn, count: 1},
	}
}
