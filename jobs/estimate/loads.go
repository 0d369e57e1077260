package estimate

import (
	"math"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
)

// LoadTime is what one load takes, in minutes. Those of all loads sum to the minutes of
// the estimate, to the hundredth: prepare, cut and unload to those of the cutter, and
// test and passes to cut.
type LoadTime struct {
	Number  int        `json:"number"`
	Prepare Range      `json:"prepare"` // putting it into the machine
	Test    Range      `json:"test"`    // the test cuts, before the first load
	Passes  []PassTime `json:"passes"`
	Cut     Range      `json:"cut"` // test and passes
	Unload  Range      `json:"unload"`
	Bench   Range      `json:"bench"` // weeding, and taping or pressing
}

// Cutter is all that it takes at the cutter.
func (t *LoadTime) Cutter() Range { return t.Prepare.plus(t.Cut).plus(t.Unload).rounded() }

// PassTime is what one pass takes, with the change of the tool before it.
type PassTime struct {
	Number  int   `json:"number"` // within the load, from 1
	Minutes Range `json:"minutes"`
}

// byLoad divides the minutes of e, the estimate of a plan or of several drawings, among its
// loads and their passes, by what each takes with start values, so that what minutes are
// counted with is in it. m is the map of the piece.
func (e *Estimate) byLoad(r Request, m *weeding.Map, l *layout.Layout, p *passes.Plan) []LoadTime {
	all := make([]LoadTime, len(p.Loads))
	cutter, bench := e.CutterMin.divide(cutterParts(p)), e.BenchMin.divide(benchParts(r, m, l))
	next := func() Range {
		first := cutter[0]
		cutter = cutter[1:]
		return first
	}
	for i := range p.Loads {
		t := LoadTime{Number: l.Loads[i].Number, Bench: bench[i], Prepare: next(), Test: next()}
		t.Cut = t.Test
		for _, pass := range p.Loads[i].Passes {
			one := PassTime{Number: pass.Number, Minutes: next()}
			t.Passes, t.Cut = append(t.Passes, one), t.Cut.plus(one.Minutes).rounded()
		}
		t.Unload = next()
		all[i] = t
	}
	return all
}

// cutterParts lists what the cutter takes with start values, in seconds: of each load
// preparing it, testing, each pass and unloading it.
func cutterParts(p *passes.Plan) []Range {
	spread, n := DefaultSpread(), float64(max(1, len(p.Loads)))
	var parts []Range
	for i := range p.Loads {
		test := 0.0
		if i == 0 {
			test = p.Time.TestS
		}
		parts = append(parts, spread.Handling.of(p.Time.LoadS/n), spread.Handling.of(test))
		for _, pass := range p.Loads[i].Passes {
			parts = append(parts, spread.Motion.of(pass.MotionS).plus(spread.Handling.of(pass.PauseS)))
		}
		parts = append(parts, spread.Handling.of(p.Time.UnloadS/n))
	}
	return parts
}

// benchParts lists what the bench takes of each load with start values, in seconds.
func benchParts(r Request, m *weeding.Map, l *layout.Layout) []Range {
	copies := 0
	for i := range l.Loads {
		copies += on(&l.Loads[i])
	}
	tape := 60 * r.Prices.TapingMin.InexactFloat64() * taped(Input{Stock: r.Stock, Copies: copies, Usage: l.Usage})
	parts := make([]Range, len(l.Loads))
	for i := range l.Loads {
		load := &l.Loads[i]
		effort := l.MapOf(load, m).Effort
		parts[i] = DefaultSpread().Bench.of(effort.StartS + float64(len(load.Placements))*effort.CopyS + tape*float64(on(load))/math.Max(1, float64(copies)))
	}
	return parts
}

// on is how many copies lie on a load.
func on(l *layout.Load) int { return max(len(l.Places), len(l.Placements)) }
