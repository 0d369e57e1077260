package api

import (
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
)

// drawingPart is the name of the part that holds the drawing.
const drawingPart = "drawing"

// The bounds of a form beside its drawing.
const (
	mostParts   = 1100
	longestText = 16 << 10 // bytes of a field
	longestName = 200      // characters of a file's name
)

// The fields that may come several times.
const (
	repeatable     = "answer"
	repeatableFilm = "film"
)

// form is a form as it was sent, with the first error that its fields hold.
type form struct {
	name   string // of the drawing's file
	file   []byte
	more   []upload // the drawings after the first
	most   int      // drawings that the form may have
	values map[string][]string
	err    error
}

// upload is a file that came in a form.
type upload struct {
	name string
	file []byte
}

// readForm reads a form that has a drawing and may have the named fields. It
// takes nothing twice and leaves nothing out.
func readForm(c echo.Context, fields ...string) (*form, error) { return readFormOf(c, 1, fields...) }

// readFormOf is readForm for a form that may have up to most drawings.
func readFormOf(c echo.Context, most int, fields ...string) (*form, error) {
	r := c.Request()
	_, params, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	if err != nil || params["boundary"] == "" {
		return nil, brokenForm("The header does not name the boundary of the form's parts.")
	}
	parts := multipart.NewReader(r.Body, params["boundary"])
	f := &form{most: most, values: map[string][]string{}}
	for n := 0; ; n++ {
		part, err := parts.NextPart()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, formError(err)
		}
		if n == mostParts {
			return nil, brokenForm(fmt.Sprintf("The form has more than %d parts.", mostParts))
		}
		if err := f.add(part, fields); err != nil {
			return nil, err
		}
	}
	if f.file == nil {
		return nil, unprocessable(drawingPart, "missing_drawing", "The form has no file in its part \"drawing\".", "Add the drawing: curl -F drawing=@file.dxf …")
	}
	return f, nil
}

// shortName is the name that a field goes by here: ids have two.
func shortName(field string) string {
	switch field {
	case "stock_id", "machine_id", "convention_id", "price_list_id":
		return strings.TrimSuffix(field, "_id")
	}
	return field
}

// add takes one part in.
func (f *form) add(part *multipart.Part, fields []string) error {
	field := shortName(part.FormName())
	switch {
	case field == "":
		return brokenForm("A part of the form has no name that can be read; a quotation mark in a file's name breaks it.")
	case field == drawingPart:
		return f.addFile(part)
	case !slices.Contains(fields, field):
		return unprocessable(shown(field), "unknown_field", "There is a field that this form does not have.", "The fields are: "+strings.Join(append([]string{drawingPart}, fields...), ", ")+".")
	case field != repeatable && field != repeatableFilm && len(f.values[field]) > 0:
		return unprocessable(field, "repeated_field", "A field is given twice.", "Keep the one that is meant.")
	}
	text, err := io.ReadAll(io.LimitReader(part, longestText+1))
	if err != nil {
		return formError(err)
	}
	if len(text) > longestText {
		return unprocessable(field, "invalid_field", "The field is too long.", fmt.Sprintf("Write at most %d bytes.", longestText))
	}
	value := strings.TrimSpace(string(text))
	if err := checkText(field, value); err != nil && field != "options" { // JSON may have line breaks, and is checked as such
		return err
	}
	f.values[field] = append(f.values[field], value)
	return nil
}

func (f *form) addFile(part *multipart.Part) error {
	if f.file != nil && f.most == 1 {
		return unprocessable(drawingPart, "repeated_field", "The form has two drawings.", "Send each in a request of its own.")
	}
	if len(f.more)+1 == f.most && f.most > 1 {
		return unprocessable(drawingPart, "too_many_drawings", fmt.Sprintf("The form has more than %d drawings.", f.most), "Send the rest in a request of its own.")
	}
	if part.FileName() == "" {
		return unprocessable(drawingPart, "missing_drawing", "The part \"drawing\" is a text and no file.", "Put an @ before the file's name: curl -F drawing=@file.dxf …")
	}
	name, err := checkName(part.FileName())
	if err != nil {
		return err
	}
	file, err := io.ReadAll(part)
	if err != nil {
		return formError(err)
	}
	if f.file == nil {
		f.name, f.file = name, file
	} else {
		f.more = append(f.more, upload{name, file})
	}
	return checkFile(file)
}

// checkName holds a file's name to what can be stored and shown.
func checkName(name string) (string, error) {
	if len([]rune(name)) > longestName {
		return "", unprocessable(drawingPart, "invalid_field", "The file's name is too long.", fmt.Sprintf("Give it a name of at most %d characters.", longestName))
	}
	return name, checkText(drawingPart, name)
}

func checkFile(file []byte) error {
	if len(file) > 0 {
		return nil
	}
	return unprocessable(drawingPart, "empty_file", "The file is empty.", "Export the drawing again and send that file, as the body or as the part \"drawing\" of a form.")
}

func brokenForm(detail string) error {
	return &failure{status: http.StatusBadRequest, code: "malformed_form", detail: detail, change: "Send it as multipart/form-data: curl -F drawing=@file.dxf …"}
}

// formError words what is wrong with a form; a body that is too large keeps
// its own error.
func formError(err error) error {
	var told *failure
	var tooLarge *http.MaxBytesError
	if errors.As(err, &told) || errors.As(err, &tooLarge) {
		return err
	}
	return brokenForm("The form is cut off, or its parts are not as they should be.")
}

func (f *form) text(field string) string {
	if v := f.values[field]; len(v) > 0 {
		return v[0]
	}
	return ""
}

func (f *form) fail(field, want string) {
	if f.err == nil {
		f.err = unprocessable(field, "invalid_field", "The field "+field+" is not "+want+".", "Write "+field+" as "+want+".")
	}
}

func (f *form) short(field string, most int) string {
	text := f.text(field)
	if len([]rune(text)) > most {
		f.fail(field, fmt.Sprintf("a text of at most %d characters", most))
	}
	return text
}

// number reads a positive decimal number up to most, 0 where there is none.
func (f *form) number(field string, most float64) float64 {
	text := f.text(field)
	if text == "" {
		return 0
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v > 0 && v <= most) || strings.ContainsAny(text, "xXpP_") {
		f.fail(field, fmt.Sprintf("a number above 0, at most %.0f", most))
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
	switch f.text(field) {
	case "":
		return nil
	case "true":
		return ptr(true)
	case "false":
		return ptr(false)
	}
	f.fail(field, "true or false")
	return nil
}

func ptr[T any](v T) *T { return &v }

// longestWork bounds the lengths that a caller may say its work has, in mm.
const longestWork = 100_000

func (f *form) knownLength() *size.KnownLength {
	width, height := f.number("width_mm", longestWork), f.number("height_mm", longestWork)
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
	for _, text := range f.values[repeatable] {
		question, r, err := ask.ParseReply(text)
		if _, twice := replies[question]; err != nil || twice {
			f.fail(repeatable, "question=answer, or question=answer:MM, each question once")
			return nil
		}
		if replies == nil {
			replies = ask.Replies{}
		}
		replies[question] = r
	}
	return replies
}

// films reads the films of a layered work.
func (f *form) films() []plan.FilmChoice {
	var all []plan.FilmChoice
	for _, text := range f.values[repeatableFilm] {
		film, err := plan.ParseFilm(text)
		if err != nil {
			f.fail(repeatableFilm, "stock=#rrggbb or stock=LAYER")
			return nil
		}
		all = append(all, film)
	}
	return all
}

// json reads a field that holds JSON of a schema of the specification.
func (f *form) json(spec *openapi3.T, schema, field string, into any) {
	if text := f.text(field); text != "" && f.err == nil {
		f.err = readNamed(spec, schema, field, text, into)
	}
}
