package api

import (
	"encoding/json"
	"fmt"
	"mime"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/geometry/ask"
	"knifedesk/geometry/plan"
	"knifedesk/geometry/size"
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
		return orderFromForm(c)
	}
	return nil, echo.ErrUnsupportedMediaType
}

func orderFromJSON(c echo.Context) (*order, error) {
	var r PlanRequest
	if err := c.Bind(&r); err != nil {
		return nil, err
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

// formFields are the fields a form may have beside the drawing.
var formFields = []string{
	"stock", "purpose", "machine", "convention", "price_list", "copies", "frame", "unit", "scale",
	"width_mm", "height_mm", "mirror", "client_reference", "answer", "options",
}

func orderFromForm(c echo.Context) (*order, error) {
	header, err := c.FormFile("drawing")
	if err != nil {
		return nil, formError(err)
	}
	values := c.Request().MultipartForm.Value
	for field := range values {
		if !slices.Contains(formFields, field) {
			return nil, unprocessable(field, "unknown_field", "There is a field that this form does not have.", "The fields are: drawing, "+strings.Join(formFields, ", ")+".")
		}
	}
	o := &order{name: header.Filename}
	if o.file, err = readPart(header); err != nil {
		return nil, err
	}
	f := form{values: values}
	o.reference = f.text("client_reference")
	o.choices = plan.Choices{
		Stock: f.text("stock"), Machine: f.text("machine"), Convention: f.text("convention"),
		PriceList: f.text("price_list"), Purpose: weed.Purpose(f.text("purpose")),
		Copies: f.whole("copies"), Mirror: f.choice("mirror"), Replies: f.replies(),
		Size: plan.Size{Frame: f.text("frame"), Unit: f.text("unit"), Scale: f.number("scale"), KnownLength: f.knownLength()},
	}
	f.json("options", &o.choices.Options)
	return o, f.err
}

// form reads the values of a form and keeps the first error.
type form struct {
	values map[string][]string
	err    error
}

func (f *form) text(field string) string {
	if v := f.values[field]; len(v) > 0 {
		return strings.TrimSpace(v[0])
	}
	return ""
}

func (f *form) fail(field, want string) {
	if f.err == nil {
		f.err = unprocessable(field, "invalid_field", "The field "+field+" is not "+want+".", "Write "+field+" as "+want+".")
	}
}

func (f *form) number(field string) float64 {
	text := f.text(field)
	if text == "" {
		return 0
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v > 0 && v < 1e9) {
		f.fail(field, "a positive number")
	}
	return v
}

func (f *form) whole(field string) int {
	text := f.text(field)
	if text == "" {
		return 0
	}
	v, err := strconv.Atoi(text)
	if err != nil || v < 1 {
		f.fail(field, "a whole number from 1")
	}
	return v
}

func (f *form) choice(field string) *bool {
	text := f.text(field)
	if text == "" {
		return nil
	}
	v, err := strconv.ParseBool(text)
	if err != nil {
		f.fail(field, "true or false")
	}
	return &v
}

func (f *form) knownLength() *size.KnownLength {
	width, height := f.number("width_mm"), f.number("height_mm")
	switch {
	case width > 0 && height > 0:
		f.fail("height_mm", "the only known length; give the width or the height")
	case width > 0:
		return &size.KnownLength{Of: size.Width, MM: width}
	case height > 0:
		return &size.KnownLength{Of: size.Height, MM: height}
	}
	return nil
}

// replies reads answers given in advance.
func (f *form) replies() ask.Replies {
	var replies ask.Replies
	for _, text := range f.values["answer"] {
		question, r, err := ask.ParseReply(text)
		if err != nil {
			f.fail("answer", "question=answer, or question=answer:MM")
			return nil
		}
		if replies == nil {
			replies = ask.Replies{}
		}
		replies[question] = r
	}
	return replies
}

func (f *form) json(field string, into any) {
	text := f.text(field)
	if text == "" {
		return
	}
	dec := json.NewDecoder(strings.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(into); err != nil {
		f.fail(field, fmt.Sprintf("a JSON object such as %s", `{"novice":true}`))
	}
}
