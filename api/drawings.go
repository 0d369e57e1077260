package api

import (
	"cmp"
	"context"
	"errors"
	"io"
	"mime"
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/view/picture"
)

// drawings answers what is asked of drawings.
type drawings struct{ *tools }

// CreateDrawing answers POST /v1/drawings.
func (d drawings) CreateDrawing(c echo.Context, params CreateDrawingParams) error {
	name, file, err := uploaded(c, params.Name)
	if err != nil {
		return err
	}
	var stored db.Drawing
	err = d.store.InTx(c.Request().Context(), func(tx db.Tx) error {
		var err error
		if stored, err = tx.AddDrawing(c.Request().Context(), ownerOf(c), name, file); err != nil {
			return err
		}
		if err := spend(c, tx, stored.ID); err != nil {
			return err
		}
		return noteMade(c, tx, drawingsPath+stored.ID.String())
	})
	if err != nil {
		return err
	}
	return d.sendNew(c, stored.ID)
}

const drawingsPath = "/v1/drawings/"

// sendNew answers a request that made a drawing.
func (d drawings) sendNew(c echo.Context, id uuid.UUID) error {
	out, err := d.described(c, id)
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, drawingsPath+id.String())
	return c.Blob(http.StatusCreated, out.kind, out.body)
}

// ListDrawings answers GET /v1/drawings.
func (d drawings) ListDrawings(c echo.Context, params ListDrawingsParams) error {
	limit := cmp.Or(params.Limit, mostListed)
	f := db.DrawingFilter{Client: listedFor(c, params.Owner), ClientReference: plan.Reference(params.ClientReference), Limit: limit + 1}
	if params.State != "" {
		f.Planned = ptr(params.State == DrawingStatePlanned)
	}
	var err error
	if f.Before, err = readBefore(params.Cursor); err != nil {
		return err
	}
	rows, err := d.store.DrawingHeads(c.Request().Context(), f)
	if err != nil {
		return err
	}
	return sendNewest(c, "drawings", rows, limit, showDrawingHead, func(h db.DrawingHead) db.Cursor { return db.Cursor{Created: h.Created, ID: h.ID} })
}

// GetDrawing answers GET /v1/drawings/{drawing_id}.
func (d drawings) GetDrawing(c echo.Context, id DrawingID) error {
	out, err := d.described(c, id)
	if err != nil {
		return err
	}
	return send(c, out)
}

// DeleteDrawing answers DELETE /v1/drawings/{drawing_id}.
func (d drawings) DeleteDrawing(c echo.Context, id DrawingID, params DeleteDrawingParams) error {
	if err := d.jobs.EraseDrawing(c.Request().Context(), clientOf(c), id, params.Plans); err != nil {
		return lacking(err, "drawing")
	}
	return c.NoContent(http.StatusNoContent)
}

// GetDrawingPreview answers GET /v1/drawings/{drawing_id}/preview.svg and .png.
func (d drawings) GetDrawingPreview(c echo.Context, id DrawingID, file string) error {
	stored, err := d.store.Drawing(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return lacking(err, "drawing")
	}
	return d.sendMade(c, cacheKey("drawing", string(stored.Hash), file), func(ctx context.Context) (content, error) {
		in, err := d.read(ctx, stored)
		if err != nil {
			return content{}, err
		}
		return d.drawn(ctx, file, func(ctx context.Context) (*figure.Picture, error) { return picture.Drawing(ctx, in) })
	})
}

// described returns what was read in a drawing of the client.
func (d drawings) described(c echo.Context, id DrawingID) (content, error) {
	ctx := c.Request().Context()
	stored, err := d.store.Drawing(ctx, clientOf(c), id)
	if err != nil {
		return content{}, lacking(err, "drawing")
	}
	return d.made.get(ctx, cacheKey("described", id.String()), func(ctx context.Context) (content, error) {
		in, err := d.read(ctx, stored)
		if err != nil {
			return content{}, err
		}
		return jsonContent(showDrawing(stored, in))
	})
}

// read returns what the first job of every plan makes of the drawing's file.
// Its result is kept and shared with the plans, so no file is read twice.
func (d drawings) read(ctx context.Context, stored db.Drawing) (*read.Result, error) {
	if err := d.jobs.Room(ctx, stored.Hash); err != nil {
		return nil, err
	}
	file, err := d.store.File(ctx, stored.Hash)
	if err != nil {
		return nil, err
	}
	var out *read.Result
	err = d.turns.inTurn(ctx, func() error {
		result, err := d.jobs.Read(ctx, file)
		out = d.list.Read.In(jobs.Results{read.Name: result})
		return err
	})
	if errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil {
		return nil, unprocessable(drawingPart, "too_slow_to_read", "The drawing takes too long to read.", "Simplify its paths, leave out images and hidden layers, and export it again.")
	}
	if err != nil {
		return nil, err
	}
	finding.Number(out.Findings, 1)
	return out, nil
}

// uploaded returns the file that a request carries, as its body or as the part
// "drawing" of a form, and its name.
func uploaded(c echo.Context, name string) (string, []byte, error) {
	r := c.Request()
	if kind, _, _ := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType)); kind == echo.MIMEMultipartForm {
		f, err := readForm(c)
		if err != nil {
			return "", nil, err
		}
		return firstOf(name, f.name), f.file, nil
	}
	file, err := io.ReadAll(r.Body)
	if err != nil {
		return "", nil, err
	}
	return name, file, checkFile(file)
}

func firstOf(names ...string) string {
	for _, n := range names {
		if n != "" {
			return n
		}
	}
	return ""
}
