package api

import "knifedesk/jobs/layout"

func showLayout(l *layout.Layout) Layout {
	return Layout{
		Loads: each(l.Loads, showLoad), Panels: maybe(l.Panels, showPanels), Usage: showUsage(l.Usage), Mirrored: l.Mirrored, Nested: maybe(l.Nested, showNested),
		Findings: showFindings(l.Findings), Questions: showQuestions(l.Questions),
	}
}

func showNested(n layout.Nested) Nested {
	return Nested{Effort: Nesting(n.Effort), Better: n.Better, SavedSheets: n.SavedSheets, SavedMM: n.SavedMM, Means: n.Means}
}

func showLoad(l layout.Load) Load {
	return Load{
		Number: l.Number, WidthMM: l.WidthMM, LengthMM: l.LengthMM, Panel: l.Map, MatID: l.MatID, Sheets: each(l.Sheets, showBox),
		Placements: each(l.Placements, showPlacement),
	}
}

func showPanels(p layout.Panels) Panels {
	return Panels{List: each(p.List, showPanel), Joint: PanelsJoint(p.Join.Joint), OverlapMM: p.Join.OverlapMM, CrossedMM: p.CrossedMM, EqualMM: p.EqualMM}
}

func showPanel(p layout.Panel) Panel {
	return Panel{Code: p.Code, Box: showBox(p.Box), Marks: p.Marks, Coded: p.Coded}
}

func showPlacement(p layout.Placement) Placement {
	return Placement{Copy: p.Copy, TurnDeg: p.TurnDeg, Transform: showMatrix(p.Transform), Bounds: showBox(p.Bounds)}
}

func showUsage(u layout.Usage) Usage {
	return Usage{
		Sheets: u.Sheets, RollMM: u.RollMM, StockMM2: u.StockMM2,
		NestWaste: u.NestWaste, ArtWaste: u.ArtWaste, ProcessWaste: u.ProcessWaste, Wastes: each(u.Wastes, showWaste), AreaBound: u.AreaBound,
		TapeMM2: u.TapeMM2, TapeM: u.TapeM, TapePieces: u.TapePieces, TapeStrips: u.TapeStrips, TapeTack: Tack(u.TapeTack),
		Offcut: maybe(u.Offcut, showBox), OffcutFullWidth: maybe(u.OffcutFullWidth, showBox),
	}
}

func showWaste(w layout.Waste) Waste {
	return Waste{Name: WasteName(w.Name), Share: w.Share, Means: w.Means}
}
