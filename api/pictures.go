package api

import (
	"context"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/view"
)

// pngScale is how many pixels a PNG has for one of the page, if that is not too many.
const pngScale = 1.5

// GetPlanPreview answers GET /v1/plans/{plan_id}/previews/{picture}.
func (p parts) GetPlanPreview(c echo.Context, id PlanID, file string, params GetPlanPreviewParams) error {
	found, err := p.find(c, id)
	if err != nil {
		return err
	}
	name, _, _ := strings.Cut(file, ".")
	load := max(params.Load, 1)
	return p.sendMade(c, cacheKey("picture", found.sum(), file, strconv.Itoa(load), strconv.Itoa(params.Width)), func(ctx context.Context) (content, error) {
		ctx = figure.Onto(ctx, figure.Screen(float64(params.Width)))
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		return p.drawn(ctx, file, func(ctx context.Context) (*figure.Picture, error) { return p.draw(ctx, r, name, load) })
	})
}

// draw makes the picture of a job.
func (p parts) draw(ctx context.Context, r *view.Results, name string, load int) (*figure.Picture, error) {
	if name == stackPicture {
		return p.drawStack(ctx, r)
	}
	row := p.list.Row(name)
	if row == nil || row.Draw == nil {
		return nil, notFound("picture")
	}
	if (row.ByLoad || row.ByPanel && r.Panelled()) && r.Layout != nil && load > r.Loads() {
		return nil, noLoad(r.Loads())
	}
	out, err := row.Draw(ctx, r, load)
	if out == nil && err == nil {
		err = notYet(name)
	}
	return out, err
}

// stackPicture is the name of the picture of a layered work as it is put up.
const stackPicture = "stack"

// drawStack draws the films of a layered work.
func (p parts) drawStack(ctx context.Context, r *view.Results) (*figure.Picture, error) {
	if r.Artwork != nil && r.Artwork.Stack == nil && len(r.Artwork.Questions) == 0 {
		return nil, notFound("picture")
	}
	out, err := view.DrawStack(ctx, r)
	if out == nil && err == nil {
		err = notYet(stackPicture)
	}
	return out, err
}

func noLoad(loads int) error {
	return &failure{
		status: http.StatusNotFound, code: "no_such_load", field: "load",
		detail: finding.Fill("The plan has {loads} {loads:load|loads}.", finding.Values{"loads": finding.Int(loads)}), change: "Count from 1; the plan's layout lists its loads.",
	}
}

// drawn returns what draw draws, in the format of the file's name.
func (t *tools) drawn(ctx context.Context, file string, draw func(context.Context) (*figure.Picture, error)) (content, error) {
	var out content
	err := t.turns.inTurn(ctx, func() error {
		p, err := draw(ctx)
		if err != nil {
			return err
		}
		if strings.HasSuffix(file, ".svg") {
			body, err := p.SVG(ctx)
			out = newContent("image/svg+xml", body)
			return err
		}
		body, err := p.PNG(ctx, p.ScaleUpTo(pngScale))
		out = newContent("image/png", body)
		return err
	})
	return out, err
}
