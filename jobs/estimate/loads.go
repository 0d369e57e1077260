package estimate

import (
	"math"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
)

// LoadTime is what one load takes, in minutes. Those of all loads sum to the minutes of
// the estimate, to rounding.
type LoadTime struct {
	Number  int   `json:"number"`
	Prepare Range `json:"prepare"` // putting it into the machine
	Cut     Range `json:"cut"`     // with changes of the tool; the first has the test cuts too
	Unload  Range `json:"unload"`
	Bench   Range `json:"bench"` // weeding, and taping or pressing
}

// ByLoad divides the minutes of e, the estimate of a plan or of several drawings, among its
// loads, by what each takes with start values, so that what minutes are counted with is
// in it. m is the map of the piece.
func (e *Estimate) ByLoad(r Request, m *weeding.Map, l *layout.Layout, p *passes.Plan) []LoadTime {
	spread := DefaultSpread()
	n := float64(max(1, len(p.Loads)))
	all := make([]LoadTime, len(p.Loads))
	copies := 0
	for i := range l.Loads {
		copies += on(&l.Loads[i])
	}
	tape := 60 * r.Prices.TapingMin.InexactFloat64() * taped(Input{Stock: r.Stock, Copies: copies, Usage: l.Usage})
	for i := range p.Loads {
		load := &l.Loads[i]
		motion, byHand := 0.0, 0.0
		for _, pass := range p.Loads[i].Passes {
			motion, byHand = motion+pass.MotionS, byHand+pass.PauseS
		}
		if i == 0 {
			byHand += p.Time.TestS
		}
		effort := l.MapOf(load, m).Effort
		bench := effort.StartS + float64(len(load.Placements))*effort.CopyS + tape*float64(on(load))/math.Max(1, float64(copies))
		all[i] = LoadTime{
			Number: load.Number, Prepare: spread.Handling.of(p.Time.LoadS / n), Unload: spread.Handling.of(p.Time.UnloadS / n),
			Cut: spread.Motion.of(motion).plus(spread.Handling.of(byHand)), Bench: spread.Bench.of(bench),
		}
	}
	var cutter, bench Range
	for _, t := range all {
		cutter, bench = cutter.plus(t.Prepare).plus(t.Cut).plus(t.Unload), bench.plus(t.Bench)
	}
	for i := range all {
		t := &all[i]
		t.Prepare, t.Cut, t.Unload = t.Prepare.part(cutter, e.CutterMin), t.Cut.part(cutter, e.CutterMin), t.Unload.part(cutter, e.CutterMin)
		t.Bench = t.Bench.part(bench, e.BenchMin)
	}
	return all
}

// part is what of minutes falls to r, which is a part of a whole, to the hundredth.
func (r Range) part(whole, minutes Range) Range {
	of := func(r, whole, minutes float64) float64 {
		if whole <= 0 {
			return 0
		}
		return hundredths(minutes * r / whole).InexactFloat64()
	}
	return Range{of(r.Low, whole.Low, minutes.Low), of(r.Likely, whole.Likely, minutes.Likely), of(r.High, whole.High, minutes.High)}
}

// on is how many copies lie on a load.
func on(l *layout.Load) int { return max(len(l.Places), len(l.Placements)) }
