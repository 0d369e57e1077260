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
	return Make(Input{
		Terms: l.Terms(m.Effort, r.Copies), Slower: slower, Calibration: r.Calibration,
		Stock: r.Stock, Copies: r.Copies, Loads: len(l.Loads), Usage: l.Usage,
		Time: p.Time, CutMM: p.CutMM, Effort: l.Effort(m.Effort), Staff: l.StaffEffort(m.Effort), Prices: r.Prices,
	})
}
