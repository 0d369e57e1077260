package jobs

import (
	"cmp"
	"context"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Recut returns the request that cuts again what was spoiled of a plan, whole copies or
// pieces of them, as they were read then: on the first of the offcuts that holds it in one
// load, else on the stock. m is the weeding map of the plan. The prices are today's. A
// *SpoiledError names what the plan has not.
func Recut(ctx context.Context, data workshop.Data, r plan.Request, spoiled []Spoiled, m *weeding.Map, offcuts []workshop.Stock, stock workshop.Stock) (*plan.Request, error) {
	var unknown error
	old := r
	err := budget.Run(ctx, func(b *budget.Budget) { r.Copies, r.Again, unknown = againOf(b, &old, m, spoiled) })
	if err = cmp.Or(err, unknown); err != nil {
		return nil, err
	}
	drawn := old.Drawn()
	r.DrawnFor = &drawn
	if prices, ok := data.PriceList(r.Prices.ID); ok {
		r.Prices = prices
	}
	for _, s := range offcuts {
		one, err := on(data, r, s)
		if err != nil {
			return nil, err
		}
		if fits, err := inOneLoad(ctx, one, m); err != nil || fits {
			return one, err
		}
	}
	return on(data, r, stock)
}

// inOneLoad reports whether a request is laid in one load, with nothing to ask.
func inOneLoad(ctx context.Context, r *plan.Request, m *weeding.Map) (bool, error) {
	l, err := runLayout(ctx, readsLayout(r), m)
	if err != nil {
		return false, err
	}
	return len(l.Loads) == 1 && len(l.Questions) == 0 && finding.Worst(l.Findings) != finding.Block, nil
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
