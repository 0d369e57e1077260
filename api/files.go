package api

import (
	"bytes"
	"context"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/passes"
	"knifedesk/jobs/view"
)

// GetPlanFile answers GET /v1/plans/{plan_id}/files/load-N.dxf, .svg and .plt.
func (p parts) GetPlanFile(c echo.Context, id PlanID, file string) error {
	name, format, _ := strings.Cut(file, ".")
	load, err := strconv.Atoi(strings.TrimPrefix(name, "load-"))
	if err != nil {
		return notFound("file")
	}
	found, err := p.find(c, id)
	if err != nil {
		return err
	}
	if !found.has(passes.Name) {
		return notYet(passes.Name)
	}
	return p.sendMade(c, cacheKey("file", found.sum(), file), func(ctx context.Context) (content, error) {
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		out, err := p.writeLoad(ctx, r, load, view.Format(format))
		out.file = file
		return out, err
	})
}

// writeLoad writes a file to cut from.
func (p parts) writeLoad(ctx context.Context, r *view.Results, load int, format view.Format) (content, error) {
	if load > len(r.Passes.Loads) {
		return content{}, noLoad(len(r.Passes.Loads))
	}
	var b bytes.Buffer
	if err := p.turns.inTurn(ctx, func() error { return r.WriteLoad(ctx, &b, load, format) }); err != nil {
		return content{}, err
	}
	return newContent(fileKind(format), b.Bytes()), nil
}

// fileKind returns the media type of a file to cut from.
func fileKind(format view.Format) string {
	switch format {
	case view.SVG:
		return "image/svg+xml"
	case view.Plt:
		return "application/vnd.hp-hpgl"
	}
	return "image/vnd.dxf"
}
