package api

import (
	"context"
	"strconv"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/layout"
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
	return p.sendMade(c, cacheKey("part", "weeding", found.sum(), strconv.Itoa(params.Load)), func(ctx context.Context) (content, error) {
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		if params.Load > r.Loads() {
			return content{}, noLoad(r.Loads())
		}
		var out content
		err = p.turns.inTurn(ctx, func() (err error) {
			out, err = jsonContent(showWeeding(r.MapOn(params.Load)))
			return err
		})
		return out, err
	})
}
