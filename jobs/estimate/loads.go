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

// ByLoad returns what each load of a plan, or of several drawings, takes. m is the map of
// the piece.
func ByLoad(r Request, m *weeding.Map, l *layout.Layout, p *passes.Plan) []LoadTime {
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
		e := l.MapOf(load, m).Effort
		bench := e.StartS + float64(len(load.Placements))*e.CopyS + tape*float64(on(load))/math.Max(1, float64(copies))
		all[i] = LoadTime{
			Number: load.Number, Prepare: spread.Handling.of(p.Time.LoadS / n).minutes(), Unload: spread.Handling.of(p.Time.UnloadS / n).minutes(),
			Cut: spread.Motion.of(motion).plus(spread.Handling.of(byHand)).minutes(), Bench: spread.Bench.of(bench).minutes(),
		}
	}
	return all
}

// on is how many copies lie on a load.
func on(l *layout.Load) int { return max(len(l.Places), len(l.Placements)) }
