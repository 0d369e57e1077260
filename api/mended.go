package api

import (
	"bytes"
	"context"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/layered"
	"knifedesk/jobs/view/mended"
)

// GetPlanMendedSVG answers GET /v1/plans/{plan_id}/mended.svg.
func (p parts) GetPlanMendedSVG(c echo.Context, id PlanID) error {
	return p.sendMended(c, id, view.SVG)
}

// GetPlanMendedDXF answers GET /v1/plans/{plan_id}/mended.dxf.
func (p parts) GetPlanMendedDXF(c echo.Context, id PlanID) error {
	return p.sendMended(c, id, view.DXF)
}

func (p parts) sendMended(c echo.Context, id PlanID, format view.Format) error {
	row, err := p.store.Plan(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	found, err := p.results(c.Request().Context(), id)
	if err != nil {
		return err
	}
	if !found.has(artwork.Name) {
		return notYet("mended drawing")
	}
	request, err := queue.RequestOf(row)
	if err != nil {
		return err
	}
	return p.sendMade(c, cacheKey("mended", found.sum(), string(format)), func(ctx context.Context) (content, error) {
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		var out content
		err = p.turns.inTurn(ctx, func() error {
			f, err := mended.New(ctx, r, request, format)
			if err == nil {
				out, err = fileOf(f, "mended", format)
			}
			return err
		})
		return out, err
	})
}

// fileOf writes a drawing in layers, offered under the name.
func fileOf(f *layered.File, name string, format view.Format) (content, error) {
	write := f.WriteSVG
	if format == view.DXF {
		write = f.WriteDXF
	}
	var b bytes.Buffer
	err := write(&b)
	out := newContent(fileKind(format), b.Bytes())
	out.file = name + "." + string(format)
	return out, err
}
