package api

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/view"
)

// GetPlanFile answers GET /v1/plans/{plan_id}/files/load-N.dxf, .svg and .plt.
func (a *API) GetPlanFile(c echo.Context, id PlanID, file string) error {
	name, format, _ := strings.Cut(file, ".")
	load, err := strconv.Atoi(strings.TrimPrefix(name, "load-"))
	if err != nil {
		return notFound("file")
	}
	v, err := a.view(c, id)
	if err != nil {
		return err
	}
	if v.Passes == nil {
		return notYet("passes")
	}
	if load > len(v.Passes.Loads) {
		return noLoad(len(v.Passes.Loads))
	}
	var b bytes.Buffer
	ctx := c.Request().Context()
	err = a.turns.inTurn(ctx, func() error { return v.WriteLoad(ctx, &b, load, view.Format(format)) })
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderContentDisposition, fmt.Sprintf("attachment; filename=%q", file))
	return sendCached(c, map[string]string{
		"dxf": "image/vnd.dxf", "svg": "image/svg+xml", "plt": "application/vnd.hp-hpgl",
	}[format], b.Bytes())
}
