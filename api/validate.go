package api

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/gorillamux"
	"github.com/labstack/echo/v4"
)

// isPage says whether a route is one beside the specification.
func isPage(route string) bool {
	return route == "/" || route == measurePath || route == "/page/:file" || route == "/docs/*" || route == "/help" || route == helpPath+":code"
}

// checkRequests returns a middleware that holds every request against the
// specification. Files and forms are checked by their handlers.
func checkRequests(spec *openapi3.T, rules rules) (echo.MiddlewareFunc, error) {
	router, err := gorillamux.NewRouter(spec)
	if err != nil {
		return nil, fmt.Errorf("api: routes of the specification: %w", err)
	}
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			r := c.Request()
			route, params, err := router.FindRoute(r)
			switch {
			case errors.Is(err, routers.ErrMethodNotAllowed):
				return refuseMethod(c, router)
			case err != nil && !isPage(c.Path()):
				return echo.ErrNotFound
			case err != nil && r.Method != http.MethodGet:
				return refuseAllBut(c, http.MethodGet, http.MethodHead)
			case err != nil:
				return next(c)
			}
			needs, _ := rules.of(c)
			if err := checkRequest(r, route, params, needs.takesLink()); err != nil {
				return err
			}
			return next(c)
		}
	}, nil
}

func checkRequest(r *http.Request, route *routers.Route, params map[string]string, link bool) error {
	if err := errors.Join(checkQuery(r, route, link), checkHeaders(r.Header)); err != nil {
		return err
	}
	kind, err := checkMediaType(r, route.Operation)
	if err != nil {
		return err
	}
	if kind == echo.MIMEApplicationJSON {
		text, err := readJSON(r.Body)
		if err != nil {
			return err
		}
		r.Body = io.NopCloser(bytes.NewReader(text))
		r.Header.Set(echo.HeaderContentType, kind) // as the validator knows it, in small letters
	}
	err = openapi3filter.ValidateRequest(r.Context(), &openapi3filter.RequestValidationInput{
		Request: r, PathParams: params, Route: route,
		Options: &openapi3filter.Options{ExcludeRequestBody: kind != echo.MIMEApplicationJSON},
	})
	if err != nil {
		return refused(err)
	}
	return nil
}

// refuseMethod answers OPTIONS, and every other method that the path does not
// take, with those that it does (RFC 9110, 15.5.6).
func refuseMethod(c echo.Context, router routers.Router) error {
	var takes []string
	for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete} {
		try := c.Request().WithContext(c.Request().Context())
		try.Method = method
		if _, _, err := router.FindRoute(try); err != nil {
			continue
		}
		takes = append(takes, method)
		if method == http.MethodGet {
			takes = append(takes, http.MethodHead)
		}
	}
	return refuseAllBut(c, takes...)
}

func refuseAllBut(c echo.Context, takes ...string) error {
	c.Response().Header().Set(echo.HeaderAllow, strings.Join(append(slices.Clone(takes), http.MethodOptions), ", "))
	if c.Request().Method == http.MethodOptions {
		return c.NoContent(http.StatusNoContent)
	}
	return &failure{status: http.StatusMethodNotAllowed, code: "method_not_allowed", detail: "This path does not take that method.", change: "It takes: " + strings.Join(takes, ", ") + "."}
}

// checkQuery refuses parameters that the operation does not have, which would
// be left out in silence, and those that are given twice or broken. A signed link
// has one of its own.
func checkQuery(r *http.Request, route *routers.Route, link bool) error {
	query, err := url.ParseQuery(r.URL.RawQuery)
	if err != nil {
		return &failure{status: http.StatusBadRequest, code: "malformed_query", detail: "The part of the address after the question mark is broken.", change: "Write special characters as %XX."}
	}
	known := []string{}
	if link {
		known = append(known, signedParam)
	}
	for _, p := range slices.Concat(route.PathItem.Parameters, route.Operation.Parameters) {
		if p.Value.In == openapi3.ParameterInQuery {
			known = append(known, p.Value.Name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(query)) {
		if !slices.Contains(known, name) {
			change := "This path has no parameters."
			if len(known) > 0 {
				change = "The parameters are: " + strings.Join(known, ", ") + "."
			}
			return unprocessable(shown(name), "unknown_parameter", "There is a parameter that this path does not have.", change)
		}
		if len(query[name]) > 1 {
			return unprocessable(name, "repeated_parameter", "A parameter is given twice.", "Keep the one that is meant.")
		}
		if err := checkText(name, query.Get(name)); err != nil {
			return err
		}
	}
	return nil
}

// checkHeaders refuses a second one of what there can be but one of: a proxy before the
// service may have gone by the other.
func checkHeaders(h http.Header) error {
	for _, name := range []string{echo.HeaderAuthorization, echo.HeaderContentType, "Idempotency-Key"} {
		if len(h.Values(name)) > 1 {
			return unprocessable(name, "repeated_parameter", "A header is given twice.", "Keep the one that is meant.")
		}
	}
	return nil
}

// checkMediaType returns the media type of the body, "" for a request that has
// none. A file without a type is taken for what its bytes say (RFC 9110, 8.3).
func checkMediaType(r *http.Request, op *openapi3.Operation) (string, error) {
	if op.RequestBody == nil {
		return "", nil
	}
	takes := op.RequestBody.Value.Content
	header := r.Header.Get(echo.HeaderContentType)
	if _, raw := takes[echo.MIMEOctetStream]; raw && header == "" {
		header = echo.MIMEOctetStream
	}
	kind, _, err := mime.ParseMediaType(header)
	if err != nil && !errors.Is(err, mime.ErrInvalidMediaParameter) || takes[kind] == nil {
		return "", &failure{
			status: http.StatusUnsupportedMediaType, code: "unsupported_media_type", field: echo.HeaderContentType,
			detail: "The body has a content type that this path does not take.",
			change: "Send one of: " + strings.Join(slices.Sorted(maps.Keys(takes)), ", ") + ".",
		}
	}
	if coding := r.Header.Get(echo.HeaderContentEncoding); coding != "" && !strings.EqualFold(coding, "identity") {
		return "", &failure{
			status: http.StatusUnsupportedMediaType, code: "unsupported_encoding", field: echo.HeaderContentEncoding,
			detail: "The body is compressed.", change: "Send it as it is, without Content-Encoding.",
		}
	}
	return kind, nil
}

// refused words a validation error without repeating what the client sent.
func refused(err error) error {
	var re *openapi3filter.RequestError
	if !errors.As(err, &re) {
		return &failure{status: http.StatusBadRequest, code: "bad_request", detail: "The request does not fit the specification.", change: "Compare it with /docs."}
	}
	field, kind := "", "body"
	if re.Parameter != nil {
		field, kind = re.Parameter.Name, "parameter"
	}
	var se *openapi3.SchemaError
	if errors.As(err, &se) {
		return refusedBySchema(field, "invalid_"+kind, se)
	}
	if errors.Is(err, openapi3filter.ErrInvalidRequired) {
		return unprocessable(field, "missing_"+kind, "Something required is missing.", "See /docs/reference for what is required.")
	}
	change := "See /docs/reference for what it takes."
	if re.Parameter != nil && re.Parameter.Schema != nil {
		change = "Write " + typeText(re.Parameter.Schema.Value) + "."
	}
	return unprocessable(field, "invalid_"+kind, "A value does not fit the specification.", change)
}
