package api

import (
	"bytes"
	"context"
	"strconv"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/passes"
	"knifedesk/jobs/view"
)

// GetPlanWorksheet answers GET /v1/plans/{plan_id}/worksheet.pdf.
func (p parts) GetPlanWorksheet(c echo.Context, id PlanID) error {
	row, found, err := p.find(c, id)
	if err != nil {
		return err
	}
	drawing, err := p.store.Drawing(c.Request().Context(), clientOf(c), row.Drawing)
	if err != nil {
		return lacking(err, "drawing")
	}
	if !found.has(passes.Name) {
		return notYet("worksheet")
	}
	about := view.About{Plan: id.String(), Drawing: drawing.Name, Reference: row.ClientReference, Made: row.Created, Request: &row.Request}
	key := cacheKey("worksheet", found.sum(), about.Plan, strconv.Itoa(row.Revision), about.Drawing, about.Reference)
	return p.sendMade(c, key, func(ctx context.Context) (content, error) {
		v, err := found.view(ctx)
		if err != nil {
			return content{}, err
		}
		var b bytes.Buffer
		err = p.turns.inTurn(ctx, func() error { return v.Worksheet(&b, about) })
		return newContent("application/pdf", b.Bytes()), err
	})
}
