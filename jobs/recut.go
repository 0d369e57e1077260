package jobs

import (
	"context"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Recut returns the request that cuts some copies of a plan again: on the first of
// the offcuts that holds them in one load, else on the stock. m is the weeding map
// of the plan. The prices are today's.
func Recut(ctx context.Context, data workshop.Data, r plan.Request, copies int, m *weeding.Map, offcuts []workshop.Stock, stock workshop.Stock) (*plan.Request, error) {
	r.Copies = copies
	if prices, ok := data.PriceList(r.Prices.ID); ok {
		r.Prices = prices
	}
	for _, s := range offcuts {
		one, err := on(data, r, s)
		if err != nil {
			return nil, err
		}
		l, err := runLayout(ctx, readsLayout(one), m)
		if err != nil {
			return nil, err
		}
		if len(l.Loads) == 1 && len(l.Questions) == 0 && finding.Worst(l.Findings) != finding.Block {
			return one, nil
		}
	}
	return on(data, r, stock)
}

// on returns the request on another stock, on the same machine where that lacks
// nothing for it.
func on(data workshop.Data, r plan.Request, s workshop.Stock) (*plan.Request, error) {
	r.Stock = s
	if lacks(data, r.Machine, s) == 0 {
		return &r, nil
	}
	m, err := chooseMachine(data, "", s)
	r.Machine = m
	return &r, err
}
