package api

import (
	"context"
	"strconv"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// GetPlanWeeding answers GET /v1/plans/{plan_id}/weeding: with the map of the work, or
// with that of the panel on a load.
func (p parts) GetPlanWeeding(c echo.Context, id PlanID, params GetPlanWeedingParams) error {
	if params.Load == 0 {
		return sendResult(p, c, id, p.list.Weeding, showWeeding)
	}
	found, err := p.find(c, id)
	if err != nil {
		return err
	}
	if !found.has(layout.Name) {
		return notYet(layout.Name)
	}
	return p.sendMade(c, cacheKey("part", weeding.Name, found.sum(), strconv.Itoa(params.Load)), func(ctx context.Context) (content, error) {
		return p.mapOn(ctx, found, params.Load)
	})
}

// mapOn is the weeding map of what lies on a load.
func (p parts) mapOn(ctx context.Context, found results, load int) (out content, err error) {
	r, err := found.shown(ctx)
	if err != nil {
		return content{}, err
	}
	if load > r.Loads() {
		return content{}, noLoad(r.Loads())
	}
	err = p.turns.inTurn(ctx, func() (err error) {
		out, err = jsonContent(showWeeding(r.MapOn(load)))
		return err
	})
	return out, err
}
