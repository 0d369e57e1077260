package api

import "knifedesk/jobs/weeding"

func showWeeding(m *weeding.Map) Weeding {
	return Weeding{
		Purpose: Purpose(m.Purpose), Panel: m.Panel, Mirrored: m.Mirrored, Regions: eachAt(m.Regions, showRegion), Bounds: showBox(m.Bounds),
		Strokes: eachAt(m.Strokes, showStroke), Bridges: each(m.Bridges, showPath),
		Steps: each(m.StepsAsTheyLie(), showPeelStep), Effort: showEffort(m.Effort), Risk: m.Risk,
		Findings: showFindings(m.Findings), Questions: showQuestions(m.Questions),
	}
}

func showRegion(r *weeding.Region) Region {
	return Region{
		Number: r.Number, Of: r.Of, Class: RegionClass(r.Class), Depth: r.Depth,
		Outer: showPath(r.Outer), Holes: each(r.Holes, showPath), AreaMM2: r.AreaMM2, PerimeterMM: r.PerimeterMM,
		Pick: showPoint(r.Pick), PickRadiusMM: r.PickRadiusMM,
		LeastWidthMM: r.LeastWidthMM, LeastWidthAt: maybe(r.LeastWidthAt, showPoint),
		Fragile: r.Fragile, Touches: r.Touches,
	}
}

func showPeelStep(s weeding.Step) PeelStep {
	return PeelStep{Order: s.Order, Region: s.Region, Pick: showPoint(s.Pick), PeelDeg: s.PeelDeg, Seconds: s.Seconds, Hint: s.Hint}
}

func showEffort(e weeding.Effort) Effort {
	return Effort{
		KeptContourM: e.KeptContourM, Grounds: e.Grounds, Counters: e.Counters, Fragile: e.Fragile,
		LeastHeightMM: e.LeastHeightMM, Difficulty: e.Difficulty, CopyS: e.CopyS, StartS: e.StartS,
	}
}
