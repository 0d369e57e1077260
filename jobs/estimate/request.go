package estimate

import (
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
}

// Of works out the estimate of a plan.
func Of(r Request, m *weeding.Map, l *layout.Layout, p *passes.Plan) *Estimate {
	pieces := 0
	for i := range l.Loads {
		pieces += len(l.Loads[i].Places)
	}
	return Make(Input{
		Stock: r.Stock, Copies: r.Copies, Pieces: pieces, Loads: len(l.Loads), Usage: l.Usage,
		Time: p.Time, CutMM: p.CutMM, Effort: l.Effort(m.Effort), Staff: l.StaffEffort(m.Effort), Prices: r.Prices,
	})
}
