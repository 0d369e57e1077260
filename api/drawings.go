package api

import (
	"context"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net/http"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/view/picture"
)

// CreateDrawing answers POST /v1/drawings.
func (a *API) CreateDrawing(c echo.Context, params CreateDrawingParams) error {
	name, file, err := upload(c, params.Name)
	if err != nil {
		return err
	}
	var stored db.Drawing
	err = a.store.InTx(c.Request().Context(), func(tx db.Tx) error {
		var err error
		if stored, err = tx.AddDrawing(c.Request().Context(), clientOf(c), name, file); err != nil {
			return err
		}
		return noteMade(c, tx, drawingsPath+stored.ID.String())
	})
	if err != nil {
		return err
	}
	return a.sendMadeDrawing(c, stored.ID)
}

const drawingsPath = "/v1/drawings/"

// sendMadeDrawing answers a request that made a drawing.
func (a *API) sendMadeDrawing(c echo.Context, id uuid.UUID) error {
	stored, read, err := a.drawing(c, id)
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, drawingsPath+id.String())
	return c.JSON(http.StatusCreated, describe(stored, read))
}

// GetDrawing answers GET /v1/drawings/{drawing_id}.
func (a *API) GetDrawing(c echo.Context, id DrawingID) error {
	stored, read, err := a.drawing(c, id)
	if err != nil {
		return err
	}
	return sendJSON(c, describe(stored, read))
}

// DeleteDrawing answers DELETE /v1/drawings/{drawing_id}.
func (a *API) DeleteDrawing(c echo.Context, id DrawingID) error {
	if err := a.store.EraseDrawing(c.Request().Context(), clientOf(c), id); err != nil {
		return lacking(err, "drawing")
	}
	return c.NoContent(http.StatusNoContent)
}

// GetDrawingPreview answers GET /v1/drawings/{drawing_id}/preview.svg and .png.
func (a *API) GetDrawingPreview(c echo.Context, id DrawingID, file string) error {
	_, read, err := a.drawing(c, id)
	if err != nil {
		return err
	}
	return a.sendPicture(c, file, func() (*picture.Picture, error) { return picture.Drawing(read), nil })
}

// drawing returns a drawing of the client and what was read in it.
func (a *API) drawing(c echo.Context, id DrawingID) (db.Drawing, *read.Result, error) {
	ctx := c.Request().Context()
	stored, err := a.store.Drawing(ctx, clientOf(c), id)
	if err != nil {
		return stored, nil, lacking(err, "drawing")
	}
	file, err := a.store.File(ctx, stored.Hash)
	if err != nil {
		return stored, nil, err
	}
	read, err := a.read(ctx, file)
	return stored, read, err
}

// read returns what the first stage of every plan makes of the file. Its
// result is kept and shared with the plans, so no file is read twice.
func (a *API) read(ctx context.Context, file []byte) (*read.Result, error) {
	var d read.Result
	err := a.turns.inTurn(ctx, func() error {
		body, err := a.jobs.Read(ctx, file)
		if err != nil {
			return err
		}
		return json.Unmarshal(body, &d)
	})
	finding.Number(d.Findings, 1)
	if errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil {
		return nil, unprocessable(drawingPart, "too_slow_to_read", "The drawing takes too long to read.", "Simplify its paths, leave out images and hidden layers, and export it again.")
	}
	return &d, err
}

// upload returns the file that a request carries, as its body or as the part
// "drawing" of a form, and its name.
func upload(c echo.Context, name string) (string, []byte, error) {
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

// describe sums up a drawing for the API.
func describe(stored db.Drawing, d *read.Result) Drawing {
	id := stored.ID.String()
	out := Drawing{
		ID: stored.ID, Name: stored.Name, Bytes: int(stored.Bytes), Sha256: hex.EncodeToString(stored.Hash),
		CreatedAt: stored.Created, Format: DrawingFormat(d.Format), Unit: d.Unit, Kinds: d.Kinds,
		Shapes: len(d.Shapes), Version: d.Version, Page: d.Page,
		Findings: list(d.Findings), Questions: list(d.Questions), Layers: layersOf(d), Colours: coloursOf(d),
		Links: map[string]string{
			"self": "/v1/drawings/" + id, "preview": "/v1/drawings/" + id + "/preview.svg",
		},
	}
	if b := d.Bounds(); !b.Empty() {
		out.Extents = &b
		if d.Unit.Declared {
			out.StatedMM = []float64{b.Width() * d.Unit.MM, b.Height() * d.Unit.MM}
		}
	}
	return out
}

func layersOf(d *read.Result) []LayerUse {
	counts := map[string]int{}
	for i := range d.Shapes {
		counts[d.Shapes[i].Layer]++
	}
	out := []LayerUse{}
	for _, l := range d.Layers {
		use := LayerUse{Name: l.Name, Shapes: counts[l.Name], Hidden: l.Off || l.Frozen, Locked: l.Locked}
		if l.Colour != nil {
			use.Colour = *l.Colour
		}
		out = append(out, use)
	}
	return out
}

func coloursOf(d *read.Result) []ColourUse {
	counts := map[drawing.Colour]int{}
	for i := range d.Shapes {
		switch s := &d.Shapes[i]; {
		case s.Stroke != nil:
			counts[*s.Stroke]++
		case s.Fill != nil:
			counts[*s.Fill]++
		}
	}
	out := []ColourUse{}
	for colour, n := range counts {
		out = append(out, ColourUse{Colour: colour, Shapes: n})
	}
	slices.SortFunc(out, func(x, y ColourUse) int { return strings.Compare(x.Colour.String(), y.Colour.String()) })
	return out
}

// list returns s, never nil, so that JSON shows [] and not null.
func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
