package api

import (
	"math"

	"knifedesk/jobs/view/replay"
)

func showReplay(r *replay.Replay) Replay {
	return Replay{
		Load: r.Load, Loads: r.Loads, WidthMM: r.WidthMM, LengthMM: r.LengthMM, MotionS: rounded(r.MotionS, 1000), WithinMM: r.WithinMM,
		Runs: r.Runs, EachOf: r.EachOf, Passes: each(r.Passes, showReplayPass), Lines: each(r.Lines, showReplayLine),
	}
}

func showReplayPass(p replay.Pass) ReplayPass {
	return ReplayPass{
		Number: p.Number, Operation: Operation(p.Operation), Words: p.Operation.Words(), Tool: p.Tool, Changed: p.Changed, PauseS: p.PauseS,
		FromS: rounded(p.FromS, 1000), ToS: rounded(p.ToS, 1000), DashMM: p.DashMM, TieMM: p.TieMM, Counts: each(p.Counts, showReplayCount),
	}
}

func showReplayCount(c replay.Count) ReplayCount {
	return ReplayCount{Role: ReplayRole(c.Role), Lines: c.Lines}
}

// showReplayLine writes places in hundredths of a millimetre and times in milliseconds:
// more digits would say nothing and be most of what is sent.
func showReplayLine(l replay.Line) ReplayLine {
	out := ReplayLine{
		Pass: l.Pass, Copy: l.Copy, Role: ReplayRole(l.Role),
		FromS: rounded(l.FromS, 1000), DownS: rounded(l.DownS, 1000), UpS: rounded(l.UpS, 1000), Points: make([]float64, 0, 3*len(l.Marks)),
	}
	for _, m := range l.Marks {
		out.Points = append(out.Points, rounded(m.X, 100), rounded(m.Y, 100), rounded(m.S, 1000))
	}
	return out
}

// rounded returns v in whole parts of one in so many.
func rounded(v, parts float64) float64 { return math.Round(v*parts) / parts }
