package api

import (
	"encoding/json"
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// part answers with the stored result of one stage, byte for byte.
func (a *API) part(c echo.Context, id PlanID, stage string) error {
	results, err := a.results(c, id, stage)
	if err != nil {
		return err
	}
	raw, ok := results[stage]
	if !ok {
		return notYet(stage)
	}
	return sendCached(c, echo.MIMEApplicationJSON, raw)
}

// results returns the stored results of the named stages of a client's plan,
// all where none is named.
func (a *API) results(c echo.Context, id PlanID, stages ...string) (map[string]json.RawMessage, error) {
	ctx := c.Request().Context()
	if _, err := a.store.Plan(ctx, clientOf(c), id); err != nil {
		return nil, lacking(err, "plan")
	}
	rows, err := a.store.PlanResults(ctx, id, stages...)
	if err != nil {
		return nil, err
	}
	results := map[string]json.RawMessage{}
	for _, r := range rows {
		results[r.Stage] = r.Body
	}
	return results, nil
}

func (a *API) view(c echo.Context, id PlanID) (*view.View, error) {
	results, err := a.results(c, id)
	if err != nil {
		return nil, err
	}
	return view.Decode(results)
}

func notYet(stage string) error {
	return &failure{
		status: http.StatusConflict, code: "not_yet",
		detail: "The plan has no " + stage + " yet: it is being worked out, waits for an answer, or was refused before.",
		change: "Look at the plan's status, questions and findings.",
	}
}

// GetPlanSize answers GET /v1/plans/{plan_id}/size.
func (a *API) GetPlanSize(c echo.Context, id PlanID) error { return a.part(c, id, plan.StageSize) }

// GetPlanArtwork answers GET /v1/plans/{plan_id}/artwork.
func (a *API) GetPlanArtwork(c echo.Context, id PlanID) error {
	return a.part(c, id, plan.StageArtwork)
}

// GetPlanWeeding answers GET /v1/plans/{plan_id}/weeding.
func (a *API) GetPlanWeeding(c echo.Context, id PlanID) error {
	return a.part(c, id, plan.StageWeeding)
}

// GetPlanLayout answers GET /v1/plans/{plan_id}/layout.
func (a *API) GetPlanLayout(c echo.Context, id PlanID) error { return a.part(c, id, plan.StageLayout) }

// GetPlanPasses answers GET /v1/plans/{plan_id}/passes.
func (a *API) GetPlanPasses(c echo.Context, id PlanID) error { return a.part(c, id, plan.StagePasses) }

// GetPlanEstimate answers GET /v1/plans/{plan_id}/estimate.
func (a *API) GetPlanEstimate(c echo.Context, id PlanID) error { return a.part(c, id, estimate.Stage) }

// GetPlanUsage answers GET /v1/plans/{plan_id}/usage.
func (a *API) GetPlanUsage(c echo.Context, id PlanID) error {
	results, err := a.results(c, id, plan.StageLayout)
	if err != nil {
		return err
	}
	raw, ok := results[plan.StageLayout]
	if !ok {
		return notYet("usage")
	}
	var l layout.Layout
	if err := json.Unmarshal(raw, &l); err != nil {
		return err
	}
	return sendJSON(c, l.Usage)
}
