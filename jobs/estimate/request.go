package estimate

import (
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Name is the name of the job that prices a plan. It alone reads the prices, so
// that a changed price runs nothing else again.
const Name = "estimate"

// Request is what the job reads of a request.
type Request struct {
	Stock  workshop.Stock     `json:"stock"`
	Copies int                `json:"copies"`
	Prices workshop.PriceList `json:"prices"`
	Novice bool               `json:"novice,omitempty"` // a beginner does the weeding
	// Calibration is what minutes are counted with; nil: the start values.
	Calibration *calibration.Calibration `json:"calibration,omitempty"`
}

// Of works out the estimate of a plan.
func Of(r Request, m *weeding.Map, l *layout.Layout, p *passes.Plan) *Estimate {
	slower := 1.0
	if r.Novice {
		slower = weeding.DefaultTimes().Novice
	}
	pieces := 0
	for i := range l.Loads {
		pieces += len(l.Loads[i].Places)
	}
	e := Make(Input{
		Terms: termsOf(l, m.Effort, r.Copies), Slower: slower, Calibration: r.Calibration,
		Stock: r.Stock, Copies: r.Copies, Pieces: pieces, Loads: len(l.Loads), Usage: l.Usage, Savings: l.Savings,
		Time: p.Time, CutMM: p.CutMM, Effort: l.Effort(m.Effort), Staff: l.StaffEffort(m.Effort), Prices: r.Prices,
	})
	e.Loads = e.byLoad(r, m, l, p)
	return e
}

// termsOf returns what weeding so many copies is counted by, with a start a load: of all
// that has a map of its own, or of the piece.
func termsOf(l *layout.Layout, piece weeding.Effort, copies int) weeding.Terms {
	times := weeding.DefaultTimes()
	sum := weeding.Terms{Starts: float64(max(1, len(l.Loads)))}
	if len(l.Maps) == 0 {
		return sum.Plus(times.TermsOf(piece, copies))
	}
	for _, m := range l.Maps {
		sum = sum.Plus(times.TermsOf(m.Effort, copies))
	}
	return sum
}
