package api

import "knifedesk/jobs/workshop"

func showStock(s workshop.Stock) Stock {
	return Stock{
		ID: s.ID, Name: s.Name, Family: Family(s.Family), Form: StockForm(s.Form), Hold: StockHold(s.Hold),
		MatTack: Tack(s.MatTack), TapeTack: Tack(s.TapeTack), Liner: s.Liner, Mirror: StockMirror(s.Mirror),
		NamedSize: s.NamedSize, WidthMM: s.WidthMM, LengthMM: s.LengthMM, UsableWidthMM: s.UsableWidthMM,
		MarginMM: s.MarginMM, LeastMarginMM: s.LeastMarginMM, LeadMM: s.LeadMM, TailMM: s.TailMM,
		LongestRunMM: s.LongestRunMM, GapMM: s.GapMM, Holds: each(s.Holds, showHeld),
		CaliperUM: s.CaliperUM, GrammageGSM: s.GrammageGSM, GrainDeg: s.GrainDeg,
		Wound: maybe(s.Wound, showWound), TapeWidthMM: s.TapeWidthMM, Join: maybe(s.Join, showJoin), Press: maybe(s.Press, showPress), Limits: showLimits(s.Limits),
	}
}

func readStock(s Stock) (workshop.Stock, error) {
	return workshop.Stock{
		ID: s.ID, Name: s.Name, Family: workshop.Family(s.Family), Form: workshop.Form(s.Form), Hold: workshop.Hold(s.Hold),
		MatTack: workshop.Tack(s.MatTack), TapeTack: workshop.Tack(s.TapeTack), Liner: s.Liner, Mirror: workshop.Mirror(s.Mirror),
		NamedSize: s.NamedSize, WidthMM: s.WidthMM, LengthMM: s.LengthMM, UsableWidthMM: s.UsableWidthMM,
		MarginMM: s.MarginMM, LeastMarginMM: s.LeastMarginMM, LeadMM: s.LeadMM, TailMM: s.TailMM,
		LongestRunMM: s.LongestRunMM, GapMM: s.GapMM, Holds: each(s.Holds, readHeld),
		CaliperUM: s.CaliperUM, GrammageGSM: s.GrammageGSM, GrainDeg: s.GrainDeg,
		Wound: maybe(s.Wound, readWound), TapeWidthMM: s.TapeWidthMM, Join: maybe(s.Join, readJoin), Press: maybe(s.Press, readPress), Limits: readLimits(s.Limits),
	}, nil
}

func showLimits(l workshop.Limits) Limits {
	return Limits{
		StrokeEasyMM: l.StrokeEasyMM, StrokeCareMM: l.StrokeCareMM, StrokeExpertMM: l.StrokeExpertMM,
		CounterMM: l.CounterMM, CounterMM2: l.CounterMM2, FragileMM2: l.FragileMM2, KeptAngleDeg: l.KeptAngleDeg, NeckMM: l.NeckMM,
		LetterEasyMM: l.LetterEasyMM, LetterCareMM: l.LetterCareMM, LetterExpertMM: l.LetterExpertMM,
		BorderMM: l.BorderMM, BridgeMM: l.BridgeMM, HandMM: l.HandMM, ClearanceMM: l.ClearanceMM,
		Stencil: showStencilLimits(l.Stencil.OrDefault()),
	}
}

func readLimits(l Limits) workshop.Limits {
	return workshop.Limits{
		StrokeEasyMM: l.StrokeEasyMM, StrokeCareMM: l.StrokeCareMM, StrokeExpertMM: l.StrokeExpertMM,
		CounterMM: l.CounterMM, CounterMM2: l.CounterMM2, FragileMM2: l.FragileMM2, KeptAngleDeg: l.KeptAngleDeg, NeckMM: l.NeckMM,
		LetterEasyMM: l.LetterEasyMM, LetterCareMM: l.LetterCareMM, LetterExpertMM: l.LetterExpertMM,
		BorderMM: l.BorderMM, BridgeMM: l.BridgeMM, HandMM: l.HandMM, ClearanceMM: l.ClearanceMM,
		Stencil: readStencilLimits(l.Stencil),
	}
}

func showStencilLimits(l workshop.StencilLimits) StencilLimits {
	return StencilLimits{TwoBelowMM: l.TwoBelowMM, ThreeToMM: l.ThreeToMM, EachMM: l.EachMM, MarginMM: l.MarginMM, LeastMarginMM: l.LeastMarginMM}
}

func readStencilLimits(l StencilLimits) workshop.StencilLimits {
	return workshop.StencilLimits{TwoBelowMM: l.TwoBelowMM, ThreeToMM: l.ThreeToMM, EachMM: l.EachMM, MarginMM: l.MarginMM, LeastMarginMM: l.LeastMarginMM}
}
