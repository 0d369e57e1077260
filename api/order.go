package api

import (
	"errors"
	"fmt"
	"mime"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
)

// order is what a request for a plan says: the drawing by its id or with its
// bytes, and the choices.
type order struct {
	drawing    uuid.UUID // Nil: the order carries the file
	name       string
	file       []byte
	choices    plan.Choices
	reference  string
	costCode   string
	supersedes *uuid.UUID
	field      func(choice string) string // the name that the body has for a choice
}

// jsonField returns the field of a PlanRequest that holds a choice.
func jsonField(choice string) string {
	switch choice {
	case "stock", "machine", "convention", "price_list":
		return choice + "_id"
	case "frame", "unit", "scale", "known_length":
		return "size." + choice
	}
	return choice
}

// formField returns the field of a form that holds a choice.
func formField(choice string) string { return choice }

// named words an error of a choice with the name that the body has for it.
func (o *order) named(err error) error {
	var choice *plan.ChoiceError
	if !errors.As(err, &choice) {
		return err
	}
	told := *choice
	told.Field = o.field(choice.Field)
	return &told
}

// longestQuestion bounds the id of a question, in characters.
const longestQuestion = 200

// checkQuestions refuses replies to what cannot be a question.
func checkQuestions(replies ask.Replies, field, code string) error {
	for id := range replies {
		if n := len([]rune(id)); n == 0 || n > longestQuestion {
			return unprocessable(field, code, "The id of a question is empty or too long.", fmt.Sprintf("Use an id from the plan's questions; it has at most %d characters.", longestQuestion))
		}
	}
	return nil
}

func (p plans) order(c echo.Context) (*order, error) {
	kind, _, _ := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType))
	switch kind {
	case echo.MIMEApplicationJSON:
		return orderFromJSON(c)
	case echo.MIMEMultipartForm:
		return orderFromForm(c, p.spec)
	}
	return nil, echo.ErrUnsupportedMediaType
}

// formFields are the fields that a form may have beside the drawing.
func formFields() []string {
	return []string{
		"stock", "purpose", "machine", "convention", "price_list", "copies", "frame", "unit", "scale",
		"width_mm", "height_mm", "mirror", repeatableFilm, "meet", "underlap_mm", "client_reference", "cost_code", "batch", repeatable, "options",
	}
}

func orderFromJSON(c echo.Context) (*order, error) {
	var r PlanRequest
	if err := decode(c, &r); err != nil {
		return nil, err
	}
	choices := readChoices(r)
	var err error
	if choices.Films, err = readFilms(r.Films); err != nil {
		return nil, err
	}
	if err := checkQuestions(choices.Replies, "answers", "invalid_body"); err != nil {
		return nil, err
	}
	if r.DrawingID == uuid.Nil { // which would mean a file with the order
		return nil, lackingField("drawing_id", "drawing")
	}
	return &order{
		drawing: r.DrawingID, reference: plan.Reference(r.ClientReference), costCode: r.CostCode, supersedes: r.Supersedes, field: jsonField,
		choices: choices,
	}, nil
}

func orderFromForm(c echo.Context, spec *openapi3.T) (*order, error) {
	f, err := readForm(c, formFields()...)
	if err != nil {
		return nil, err
	}
	o := &order{name: f.name, file: f.file, reference: plan.Reference(f.short("client_reference", 200)), costCode: f.short("cost_code", 60), field: formField}
	o.choices = plan.Choices{
		Stock: f.text("stock"), Machine: f.text("machine"), Convention: f.text("convention"),
		PriceList: f.text("price_list"), Purpose: weeding.Purpose(f.text("purpose")),
		Copies: f.whole("copies"), Mirror: f.choice("mirror"), Replies: f.replies(), Batch: f.short("batch", 60),
		Size:  plan.Size{Frame: f.short("frame", 40), Unit: f.text("unit"), Scale: f.number("scale", 1e6), KnownLength: f.knownLength()},
		Films: f.films(), Meet: artwork.Meeting(f.text("meet")), UnderlapMM: f.number("underlap_mm", films.UnderlapMost),
	}
	var options Options
	f.json(spec, "Options", "options", &options)
	o.choices.Options = readOptions(options)
	if f.err == nil {
		f.err = checkQuestions(o.choices.Replies, repeatable, "invalid_field")
	}
	return o, f.err
}
