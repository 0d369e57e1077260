package api

import (
	"bytes"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/view"
)

// GetPlanWorksheet answers GET /v1/plans/{plan_id}/worksheet.pdf.
func (a *API) GetPlanWorksheet(c echo.Context, id PlanID) error {
	ctx := c.Request().Context()
	p, err := a.store.Plan(ctx, clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	drawing, err := a.store.Drawing(ctx, clientOf(c), p.Drawing)
	if err != nil {
		return lacking(err, "drawing")
	}
	v, err := a.view(c, id)
	if err != nil {
		return err
	}
	if v.Passes == nil {
		return notYet("worksheet")
	}
	var b bytes.Buffer
	about := view.About{Plan: id.String(), Drawing: drawing.Name, Reference: p.ClientReference, Made: p.Created, Request: &p.Request}
	if err := a.turns.inTurn(ctx, func() error { return v.Worksheet(ctx, &b, about) }); err != nil {
		return err
	}
	return sendCached(c, "application/pdf", b.Bytes())
}
