package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"net/http"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"
)

// maxJSON bounds a body of JSON, which holds choices and no drawings.
const maxJSON = 1 << 20

// drained is how much of a body that is too long is read all the same: many
// clients hear an answer only once they have sent all.
const drained = 8 << 20

// readJSON returns a body of JSON, checked to be one value that every reader
// takes alike: no member twice, no broken text, nothing after it.
func readJSON(body io.Reader) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(body, maxJSON+1))
	if err != nil {
		return nil, err
	}
	if len(text) > maxJSON {
		io.CopyN(io.Discard, body, drained)
		return nil, &failure{status: http.StatusRequestEntityTooLarge, code: "too_large", detail: "A body of JSON may have 1 MB at most.", change: "Send the drawing by itself to /v1/drawings, and leave out what is not needed."}
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return nil, unprocessable("", "missing_body", "The body is empty.", "Send a JSON object; /docs shows its fields.")
	}
	if bytes.HasPrefix(text, []byte("\ufeff")) {
		return nil, malformed("The body begins with a byte order mark.", "Save it as UTF-8 without one (RFC 8259, 8.1).")
	}
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	if err := checkValue(dec, deepest); err != nil {
		return nil, err
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, malformed("There is something after the JSON value.", "Send one JSON object and nothing else.")
	}
	return text, nil
}

func malformed(detail, change string) error {
	return &failure{status: http.StatusBadRequest, code: "malformed_body", detail: detail, change: change}
}

// deepest is how many brackets may be open at a time.
const deepest = 64

// checkValue reads the next value, which may hold further ones to the depth.
func checkValue(dec *json.Decoder, depth int) error {
	token, err := dec.Token()
	if err != nil {
		return malformed("The body is not valid JSON.", "Check quotes, commas and braces.")
	}
	if depth == 0 {
		return malformed("The JSON is nested too deeply.", "Nothing here needs more than a few levels.")
	}
	switch v := token.(type) {
	case string:
		return checkText("", v)
	case json.Number:
		return checkNumber(v)
	}
	open, ok := token.(json.Delim)
	if !ok {
		return nil
	}
	seen := map[string]bool{}
	for dec.More() {
		if open == '{' {
			if err := checkMember(dec, seen); err != nil {
				return err
			}
		}
		if err := checkValue(dec, depth-1); err != nil {
			return err
		}
	}
	if _, err := dec.Token(); err != nil { // the bracket that closes
		return malformed("The body is not valid JSON.", "Check quotes, commas and braces.")
	}
	return nil
}

// least is the smallest number that measures anything here, in whatever unit. Below it
// sums and quotients of numbers leave what a computer can hold.
const least = 1e-12

// checkNumber refuses a number that is all but 0. One that is too large is told by the
// schema of its field.
func checkNumber(n json.Number) error {
	if v, err := n.Float64(); err == nil && v != 0 && math.Abs(v) < least {
		return unprocessable("", "invalid_body", "A number is so near to 0 that it measures nothing.", "Write 0, or the number that is meant.")
	}
	return nil
}

// checkMember reads the name of a member.
func checkMember(dec *json.Decoder, seen map[string]bool) error {
	token, err := dec.Token()
	name, ok := token.(string)
	if err != nil || !ok {
		return malformed("The body is not valid JSON.", "Check quotes, commas and braces.")
	}
	if err := checkText("", name); err != nil {
		return err
	}
	if seen[name] {
		return unprocessable(shown(name), "repeated_field", "A field is given twice.", "Keep the one that is meant.")
	}
	seen[name] = true
	return nil
}

// checkText refuses text that could not be stored or shown as it is. A decoder
// of JSON puts U+FFFD where the text was broken.
func checkText(field, text string) error {
	for _, r := range text {
		if r == utf8.RuneError || unicode.IsControl(r) {
			return unprocessable(field, "invalid_text", "A text holds a control character, or is not UTF-8.", "Take out zero bytes, line breaks and broken characters.")
		}
	}
	return nil
}

// shown returns a name that came from outside as it may stand in an answer.
func shown(name string) string {
	name = strings.Map(func(r rune) rune {
		if r == utf8.RuneError || unicode.IsControl(r) {
			return -1
		}
		return r
	}, name)
	if runes := []rune(name); len(runes) > 60 {
		return string(runes[:60]) + "…"
	}
	return name
}

// decode reads a body that was held against the specification already.
func decode(c echo.Context, into any) error {
	return decodeText(c.Request().Body, "", into)
}

func decodeText(text io.Reader, within string, into any) error {
	err := json.NewDecoder(text).Decode(into)
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		field := strings.Trim(within+"."+wrong.Field, ".")
		return unprocessable(field, "invalid_body", "The value has a form that is not taken here.", "Write whole numbers without a point or an exponent.")
	}
	var told *failure
	if err != nil && !errors.As(err, &told) {
		return unprocessable(within, "invalid_body", "A value has a form that is not taken here.", "See /docs/reference for what this field takes.")
	}
	return err
}

// readNamed reads JSON that stands in a field of a form, held against a schema
// of the specification.
func readNamed(spec *openapi3.T, schema, field, text string, into any) error {
	raw, err := readJSON(strings.NewReader(text))
	if err != nil {
		f := *asFailure(err)
		f.field = strings.Trim(field+"."+f.field, ".")
		return &f
	}
	var value any
	if err := json.Unmarshal(raw, &value); err != nil {
		return err
	}
	var broken *openapi3.SchemaError
	if err := spec.Components.Schemas[schema].Value.VisitJSON(value); errors.As(err, &broken) {
		return refusedBySchema(field, "invalid_field", broken)
	} else if err != nil {
		return err
	}
	return decodeText(bytes.NewReader(raw), field, into)
}
