package api

import (
	"context"
	"errors"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/passes"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
)

// GetPlanReplay answers GET /v1/plans/{plan_id}/replays/load-N.json.
func (p parts) GetPlanReplay(c echo.Context, id PlanID, name string) error {
	asked, ok := readFileName(name)
	if !ok {
		return notFound("replay")
	}
	ctx := c.Request().Context()
	row, err := p.store.Plan(ctx, clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	request, err := queue.RequestOf(row)
	if err != nil {
		return err
	}
	found, err := p.results(ctx, id)
	if err != nil {
		return err
	}
	if !found.has(passes.Name) {
		return notYet("replay")
	}
	return p.sendMade(c, cacheKey("replay", found.sum(), name), func(ctx context.Context) (content, error) {
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		if asked.load > len(r.Passes.Loads) {
			return content{}, noLoad(len(r.Passes.Loads))
		}
		var out content
		err = p.turns.inTurn(ctx, func() error {
			made, err := r.Replay(ctx, request.Machine, asked.load)
			if errors.Is(err, view.ErrAsked) {
				return notYet("replay")
			}
			if err != nil {
				return err
			}
			out, err = jsonContent(showReplay(made))
			return err
		})
		return out, err
	})
}
