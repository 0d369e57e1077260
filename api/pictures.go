package api

import (
	"context"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/view"
)

// pngScale is how many pixels a PNG has for one of the page.
const pngScale = 1.5

// GetPlanPreview answers GET /v1/plans/{plan_id}/previews/{picture}.
func (a *API) GetPlanPreview(c echo.Context, id PlanID, file string, params GetPlanPreviewParams) error {
	stage, _, _ := strings.Cut(file, ".")
	v, err := a.view(c, id)
	if err != nil {
		return err
	}
	return a.sendPicture(c, file, func(ctx context.Context) (*figure.Picture, error) {
		return drawStage(ctx, v, stage, max(params.Load, 1))
	})
}

// drawStage draws one stage of a plan.
func drawStage(ctx context.Context, v *view.View, stage string, load int) (*figure.Picture, error) {
	if v.Layout != nil && load > v.Loads() && (stage == "layout" || stage == "passes") {
		return nil, noLoad(v.Loads())
	}
	p, err := v.Picture(ctx, stage, load)
	if p == nil && err == nil {
		err = notYet(stage)
	}
	return p, err
}

func noLoad(loads int) error {
	return &failure{
		status: http.StatusNotFound, code: "no_such_load", field: "load",
		detail: finding.Fill("The plan has {loads} {loads:load|loads}.", map[string]any{"loads": loads}), change: "Count from 1; the plan's layout lists its loads.",
	}
}

// sendPicture answers with what draw draws, in the format of the file's name.
func (a *API) sendPicture(c echo.Context, file string, draw func(context.Context) (*figure.Picture, error)) error {
	kind, body := "image/svg+xml", []byte(nil)
	ctx := c.Request().Context()
	err := a.turns.inTurn(ctx, func() error {
		p, err := draw(ctx)
		if err != nil {
			return err
		}
		if strings.HasSuffix(file, ".svg") {
			body, err = p.SVG(ctx)
			return err
		}
		kind = "image/png"
		body, err = p.PNG(ctx, pngScale)
		return err
	})
	if err != nil {
		return err
	}
	return sendCached(c, kind, body)
}
