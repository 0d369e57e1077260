package api

import (
	"mime"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/geometry/plan"
	"knifedesk/geometry/weed"
)

// order is what a request for a plan says: the drawing by its id or with its
// bytes, and the choices.
type order struct {
	drawing    uuid.UUID // Nil: the order carries the file
	name       string
	file       []byte
	choices    plan.Choices
	reference  string
	supersedes *uuid.UUID
}

func (a *API) order(c echo.Context) (*order, error) {
	kind, _, _ := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType))
	switch kind {
	case echo.MIMEApplicationJSON:
		return orderFromJSON(c)
	case echo.MIMEMultipartForm:
		return a.orderFromForm(c)
	}
	return nil, echo.ErrUnsupportedMediaType
}

// formFields are the fields that a form may have beside the drawing.
var formFields = []string{
	"stock", "purpose", "machine", "convention", "price_list", "copies", "frame", "unit", "scale",
	"width_mm", "height_mm", "mirror", "client_reference", "answer", "options",
}

func orderFromJSON(c echo.Context) (*order, error) {
	var r PlanRequest
	if err := decode(c, &r); err != nil {
		return nil, err
	}
	if r.DrawingID == uuid.Nil { // which would mean a file with the order
		return nil, lackingField("drawing_id", "drawing")
	}
	return &order{
		drawing: r.DrawingID, reference: r.ClientReference, supersedes: r.Supersedes,
		choices: plan.Choices{
			Stock: r.StockID, Machine: r.MachineID, Convention: r.ConventionID, PriceList: r.PriceListID,
			Purpose: r.Purpose, Size: r.Size, Copies: r.Copies, Mirror: r.Mirror,
			Options: r.Options, Replies: r.Answers, Turned: r.Turned,
		},
	}, nil
}

func (a *API) orderFromForm(c echo.Context) (*order, error) {
	f, err := readForm(c, formFields...)
	if err != nil {
		return nil, err
	}
	o := &order{name: f.name, file: f.file, reference: f.short("client_reference", 200)}
	o.choices = plan.Choices{
		Stock: f.text("stock"), Machine: f.text("machine"), Convention: f.text("convention"),
		PriceList: f.text("price_list"), Purpose: weed.Purpose(f.text("purpose")),
		Copies: f.whole("copies"), Mirror: f.choice("mirror"), Replies: f.replies(),
		Size: plan.Size{Frame: f.short("frame", 40), Unit: f.text("unit"), Scale: f.number("scale", 1e6), KnownLength: f.knownLength()},
	}
	f.json(a.spec, "Options", "options", &o.choices.Options)
	return o, f.err
}
