package api

import (
	"errors"
	"fmt"
	"net/http"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/gorillamux"
	"github.com/labstack/echo/v4"
)

// checkRequests returns a middleware that holds every request against the
// specification. Uploads are checked by their handlers, because the check
// would read them into memory whole.
func checkRequests(spec *openapi3.T) (echo.MiddlewareFunc, error) {
	router, err := gorillamux.NewRouter(spec)
	if err != nil {
		return nil, fmt.Errorf("api: routes of the specification: %w", err)
	}
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			r := c.Request()
			route, params, err := router.FindRoute(r)
			if err != nil {
				if errors.Is(err, routers.ErrMethodNotAllowed) {
					return echo.ErrMethodNotAllowed
				}
				return next(c) // the page and its like are not in the specification
			}
			in := &openapi3filter.RequestValidationInput{
				Request: r, PathParams: params, Route: route,
				Options: &openapi3filter.Options{ExcludeRequestBody: !isJSON(r)},
			}
			if err := openapi3filter.ValidateRequest(r.Context(), in); err != nil {
				return refused(err)
			}
			return next(c)
		}
	}, nil
}

func isJSON(r *http.Request) bool {
	kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";")
	return strings.EqualFold(strings.TrimSpace(kind), "application/json")
}

// refused words a validation error without repeating what the client sent.
func refused(err error) error {
	var re *openapi3filter.RequestError
	if !errors.As(err, &re) {
		return &failure{status: http.StatusBadRequest, code: "bad_request", detail: "The request does not fit the specification.", change: "Compare it with /docs."}
	}
	field := ""
	if re.Parameter != nil {
		field = re.Parameter.Name
	}
	var se *openapi3.SchemaError
	if errors.As(err, &se) {
		if p := strings.Join(se.JSONPointer(), "."); p != "" {
			field = strings.TrimPrefix(field+"."+p, ".")
		}
		return unprocessable(field, "invalid_"+kindOf(re), schemaText(se), "See /docs for what this field takes.")
	}
	if errors.Is(err, openapi3filter.ErrInvalidRequired) {
		return unprocessable(field, "missing_"+kindOf(re), "Something required is missing.", "See /docs for what is required.")
	}
	var pe *openapi3filter.ParseError
	if errors.As(err, &pe) && re.Parameter == nil {
		return &failure{status: http.StatusBadRequest, code: "malformed_body", detail: "The body is not valid JSON.", change: "Check quotes, commas and braces."}
	}
	return unprocessable(field, "invalid_"+kindOf(re), "A value does not fit the specification.", "See /docs for what it takes.")
}

func kindOf(re *openapi3filter.RequestError) string {
	if re.Parameter != nil {
		return "parameter"
	}
	return "body"
}

// schemaText says which rule of the schema was broken.
func schemaText(se *openapi3.SchemaError) string {
	switch se.SchemaField {
	case "required":
		return "A required field is missing: " + missingField(se) + "."
	case "enum":
		var names []string
		for _, v := range se.Schema.Enum {
			names = append(names, fmt.Sprint(v))
		}
		return "The value must be one of: " + strings.Join(names, ", ") + "."
	case "additionalProperties", "properties":
		return "There is a field that this request does not have."
	case "pattern":
		return "The text has a form that is not taken here."
	case "format":
		return "The value does not have the form " + se.Schema.Format + "."
	case "type":
		return "The value has the wrong type; " + se.Schema.Type.Slice()[0] + " is expected."
	case "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum":
		return "The number is out of the range that is taken."
	}
	return "The value breaks the rule \"" + se.SchemaField + "\" of the specification."
}

func missingField(se *openapi3.SchemaError) string {
	_, after, ok := strings.Cut(se.Reason, `"`)
	if !ok {
		return "see /docs"
	}
	name, _, _ := strings.Cut(after, `"`)
	return name
}
