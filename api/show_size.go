package api

import "knifedesk/jobs/size"

func showSize(r *size.Result) Size {
	return Size{
		Transform: showMatrix(r.Transform), MMPerUnitX: r.X, MMPerUnitY: r.Y, Cause: r.Cause, Why: r.Why,
		Known: maybe(r.Known, func(k size.KnownLength) KnownLength { return KnownLength{Of: KnownLengthOf(k.Of), MM: k.MM} }), WidthMM: r.WidthMM, HeightMM: r.HeightMM, ResidualMM: r.ResidualMM[:],
		Frame: maybe(r.Frame, showSizeFrame), Hypotheses: each(r.Hypotheses, showSizeReading),
		FrameParts: each(r.FrameParts, showFramePart), LeftOut: each(r.LeftOut, showFramePart), Placed: each(r.Placed, showSizePlaced),
		Findings: showFindings(r.Findings), Questions: showQuestions(r.Questions),
	}
}

func showSizePlaced(p size.Placed) SizePlaced {
	return SizePlaced{Parts: each(p.Parts, showFramePart), Transform: showMatrix(p.Transform)}
}

func showSizeFrame(f size.Frame) SizeFrame {
	return SizeFrame{
		Name: f.Name, SideUnits: f.SideUnits[:], SideMM: f.SideMM[:], TurnDeg: f.TurnDeg,
		Corners: each(f.Corners[:], showPoint),
	}
}

func showSizeReading(h size.Hypothesis) SizeReading {
	return SizeReading{
		Frame: h.Frame, Factor: h.Factor, Cause: h.Cause, ResidualMM: h.ResidualMM[:],
		FitsStock: h.FitsStock, Plausible: h.Plausible, Evidence: h.Evidence,
	}
}

func showFramePart(p size.Part) FramePart {
	return FramePart{Shape: p.Shape, Path: p.Path, Segments: p.Segments}
}
