package api

import (
	"context"
	"encoding/json"
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
)

// parts answers what is asked of the single results of a plan: as JSON, as
// pictures, as a worksheet and as files to cut from.
type parts struct{ *tools }

// find returns a plan of the client and the results that it has.
func (p parts) find(c echo.Context, id PlanID) (db.Plan, results, error) {
	ctx := c.Request().Context()
	row, err := p.store.Plan(ctx, clientOf(c), id)
	if err != nil {
		return row, results{}, lacking(err, "plan")
	}
	found, err := p.results(ctx, row)
	return row, found, err
}

// sendPart answers with the result of one stage, as show shows it.
func sendPart[T, A any](p parts, c echo.Context, id PlanID, part, stage string, show func(*T) A) error {
	_, found, err := p.find(c, id)
	if err != nil {
		return err
	}
	if !found.has(stage) {
		return notYet(part)
	}
	return p.sendMade(c, cacheKey("part", part, found.keys[stage]), func(ctx context.Context) (content, error) {
		bodies, err := found.load(ctx, stage)
		if err != nil {
			return content{}, err
		}
		var out content
		err = p.turns.inTurn(ctx, func() error {
			var result T
			if err := json.Unmarshal(bodies[stage], &result); err != nil {
				return err
			}
			out, err = jsonContent(show(&result))
			return err
		})
		return out, err
	})
}

func notYet(part string) error {
	return &failure{
		status: http.StatusConflict, code: "not_yet",
		detail: "The plan has no " + part + " yet: it is being worked out, waits for an answer, or was refused before.",
		change: "Look at the plan's status, questions and findings.",
	}
}

// GetPlanSize answers GET /v1/plans/{plan_id}/size.
func (p parts) GetPlanSize(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "size", size.Name, showSize)
}

// GetPlanArtwork answers GET /v1/plans/{plan_id}/artwork.
func (p parts) GetPlanArtwork(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "artwork", artwork.Name, showArtwork)
}

// GetPlanWeeding answers GET /v1/plans/{plan_id}/weeding.
func (p parts) GetPlanWeeding(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "weeding", weeding.Name, showWeeding)
}

// GetPlanLayout answers GET /v1/plans/{plan_id}/layout.
func (p parts) GetPlanLayout(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "layout", layout.Name, showLayout)
}

// GetPlanUsage answers GET /v1/plans/{plan_id}/usage.
func (p parts) GetPlanUsage(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "usage", layout.Name, func(l *layout.Layout) Usage { return showUsage(l.Usage) })
}

// GetPlanPasses answers GET /v1/plans/{plan_id}/passes.
func (p parts) GetPlanPasses(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "passes", passes.Name, showPasses)
}

// GetPlanEstimate answers GET /v1/plans/{plan_id}/estimate.
func (p parts) GetPlanEstimate(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "estimate", estimate.Stage, showEstimate)
}
