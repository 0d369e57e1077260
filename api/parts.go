package api

import (
	"context"
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs"
	"knifedesk/jobs/layout"
)

// parts answers what is asked of the single results of a plan: as JSON, as
// pictures, as a worksheet and as files to cut from.
type parts struct{ *tools }

// find returns the results that a plan of the client has.
func (p parts) find(c echo.Context, id PlanID) (results, error) {
	ctx := c.Request().Context()
	if _, err := p.store.PlanStanding(ctx, clientOf(c), id); err != nil {
		return results{}, lacking(err, "plan")
	}
	return p.results(ctx, id)
}

// sendPart answers with the result of one job, as show shows it.
func sendPart[T, A any](p parts, c echo.Context, id PlanID, part string, job jobs.Job[T], show func(*T) A) error {
	found, err := p.find(c, id)
	if err != nil {
		return err
	}
	name := job.Row().Name
	if !found.has(name) {
		return notYet(part)
	}
	return p.sendMade(c, cacheKey("part", part, found.keys[name]), func(ctx context.Context) (content, error) {
		all, err := found.one(ctx, name)
		if err != nil {
			return content{}, err
		}
		var out content
		err = p.turns.inTurn(ctx, func() (err error) {
			out, err = jsonContent(show(job.In(all)))
			return err
		})
		return out, err
	})
}

// sendResult is sendPart for the part that bears the name of its job.
func sendResult[T, A any](p parts, c echo.Context, id PlanID, job jobs.Job[T], show func(*T) A) error {
	return sendPart(p, c, id, job.Row().Name, job, show)
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
	return sendResult(p, c, id, p.list.Size, showSize)
}

// GetPlanArtwork answers GET /v1/plans/{plan_id}/artwork.
func (p parts) GetPlanArtwork(c echo.Context, id PlanID) error {
	return sendResult(p, c, id, p.list.Artwork, showArtwork)
}

// GetPlanLayout answers GET /v1/plans/{plan_id}/layout.
func (p parts) GetPlanLayout(c echo.Context, id PlanID) error {
	return sendResult(p, c, id, p.list.Layout, showLayout)
}

// GetPlanUsage answers GET /v1/plans/{plan_id}/usage.
func (p parts) GetPlanUsage(c echo.Context, id PlanID) error {
	return sendPart(p, c, id, "usage", p.list.Layout, func(l *layout.Layout) Usage { return showUsage(l.Usage) })
}

// GetPlanPasses answers GET /v1/plans/{plan_id}/passes.
func (p parts) GetPlanPasses(c echo.Context, id PlanID) error {
	return sendResult(p, c, id, p.list.Passes, showPasses)
}

// GetPlanEstimate answers GET /v1/plans/{plan_id}/estimate.
func (p parts) GetPlanEstimate(c echo.Context, id PlanID) error {
	return sendResult(p, c, id, p.list.Estimate, showEstimate)
}
