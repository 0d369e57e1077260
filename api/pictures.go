package api

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/geometry/preview"
	"knifedesk/jobs/summary"
)

// pngScale is how many pixels a PNG has for one of the page.
const pngScale = 1.5

// GetPlanPreview answers GET /v1/plans/{plan_id}/previews/{picture}.
func (a *API) GetPlanPreview(c echo.Context, id PlanID, picture string, params GetPlanPreviewParams) error {
	stage, _, _ := strings.Cut(picture, ".")
	v, err := a.view(c, id)
	if err != nil {
		return err
	}
	pic, err := drawStage(v, stage, max(params.Load, 1))
	if err != nil {
		return err
	}
	return sendPicture(c, picture, pic)
}

// drawStage draws one stage of a plan.
func drawStage(v *summary.View, stage string, load int) (*preview.Picture, error) {
	switch {
	case stage == "size" && v.Size != nil:
		return preview.Size(v.Drawing, v.Size), nil
	case stage == "artwork" && v.Artwork != nil:
		return preview.Artwork(v.Artwork), nil
	case stage == "weeding" && v.Weeding != nil:
		return preview.Weeding(v.Weeding), nil
	case stage == "layout" && v.Layout != nil, stage == "passes" && v.Passes != nil:
		if load > len(v.Layout.Loads) {
			return nil, noLoad(len(v.Layout.Loads))
		}
		if stage == "layout" {
			return preview.Layout(v.Layout, v.Weeding, load)
		}
		return preview.Passes(v.Passes, v.Layout, v.Weeding, load)
	}
	return nil, notYet(stage)
}

func noLoad(loads int) error {
	return &failure{
		status: http.StatusNotFound, code: "no_such_load", field: "load",
		detail: fmt.Sprintf("The plan has %d loads.", loads), change: "Count from 1.",
	}
}

// sendPicture answers with the picture in the format of the file's name.
func sendPicture(c echo.Context, file string, p *preview.Picture) error {
	if strings.HasSuffix(file, ".svg") {
		return sendCached(c, "image/svg+xml", p.SVG())
	}
	png, err := p.PNG(pngScale)
	if err != nil {
		return err
	}
	return sendCached(c, "image/png", png)
}

// sendCached sends bytes with an ETag, or 304 where the client has them.
func sendCached(c echo.Context, kind string, body []byte) error {
	sum := sha256.Sum256(body)
	tag := `"` + hex.EncodeToString(sum[:12]) + `"`
	c.Response().Header().Set("ETag", tag)
	c.Response().Header().Set(echo.HeaderCacheControl, "private, no-cache")
	if c.Request().Header.Get("If-None-Match") == tag {
		return c.NoContent(http.StatusNotModified)
	}
	return c.Blob(http.StatusOK, kind, body)
}
