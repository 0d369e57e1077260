package api

import (
	"bytes"
	"context"
	"strconv"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/passes"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
)

// GetPlanWorksheet answers GET /v1/plans/{plan_id}/worksheet.pdf.
func (p parts) GetPlanWorksheet(c echo.Context, id PlanID) error {
	ctx := c.Request().Context()
	row, err := p.store.Plan(ctx, clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	found, err := p.results(ctx, id)
	if err != nil {
		return err
	}
	request, err := queue.RequestOf(row)
	if err != nil {
		return err
	}
	if !found.has(passes.Name) {
		return notYet("worksheet")
	}
	link, err := p.measureLink(c, plansPath+id.String()+measuredPart)
	if err != nil {
		return err
	}
	about := view.About{Plan: id.String(), Reference: row.ClientReference, Link: link, Made: row.Created, Request: request}
	key := cacheKey("worksheet", found.sum(), about.Plan, strconv.Itoa(row.Revision), about.Link, about.Reference)
	return p.sendMade(c, key, func(ctx context.Context) (content, error) {
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		if len(r.Passes.Questions) > 0 {
			return content{}, notYet("worksheet")
		}
		var b bytes.Buffer
		err = p.turns.inTurn(ctx, func() error { return r.Worksheet(ctx, &b, about) })
		return newContent("application/pdf", b.Bytes()), err
	})
}

// here is the address of this service as the client called it.
func here(c echo.Context) string { return c.Scheme() + "://" + c.Request().Host }
