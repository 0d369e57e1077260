package api

import "knifedesk/jobs/view"

func showSizeSummary(s view.Size) SizeSummary {
	return SizeSummary{
		WidthMM: s.WidthMM, HeightMM: s.HeightMM, MMPerUnitX: s.X, MMPerUnitY: s.Y,
		Cause: s.Cause, Why: s.Why, Frame: s.Frame,
	}
}

func showWeedingSummary(w view.Weeding) WeedingSummary {
	return WeedingSummary{
		Kept: w.Kept, Surrounds: w.Surrounds, Grounds: w.Grounds, Counters: w.Counters, Fragile: w.Fragile,
		ReliefLines: w.ReliefLines, Bridges: w.Bridges, BenchS: w.BenchS, Risk: w.Risk,
	}
}

func showLayoutSummary(l view.Layout) LayoutSummary {
	return LayoutSummary{Loads: l.Loads, Panels: l.Panels, Copies: l.Copies, Mirrored: l.Mirrored, Nested: maybe(l.Nested, showNested)}
}

func showPassSummary(p view.Pass) PassSummary {
	return PassSummary{
		SettingID: p.Setting, Standing: maybe(p.Standing, showStanding),
		Load: p.Load, Number: p.Number, Operation: Operation(p.Operation),
		ForceGF: p.ForceGF, SpeedMMS: p.SpeedMMS, Passes: p.Passes, Tested: p.Tested, TestMark: p.TestMark, Strokes: p.Strokes,
		CutMM: p.CutMM, TravelMM: p.TravelMM, Lifts: p.Lifts, MotionS: p.MotionS,
	}
}
