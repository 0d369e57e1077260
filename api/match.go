package api

import (
	"errors"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
)

// matches holds a PUT against its If-Match and If-None-Match (RFC 9110, 13.1.1 and
// 13.1.2), so that an edit is not lost to another: now is what a GET would show,
// nil where there is nothing yet.
func matches(c echo.Context, now any) error {
	match, none := c.Request().Header.Get("If-Match"), c.Request().Header.Get("If-None-Match")
	if match == "" && none == "" {
		return nil
	}
	tag := ""
	if now != nil {
		shown, err := jsonContent(now)
		if err != nil {
			return err
		}
		tag = shown.tag
	}
	if match != "" && (tag == "" || !hasStrongTag(match, tag)) {
		return errChangedSince
	}
	if none != "" && tag != "" && hasTag(none, tag) {
		return errThere
	}
	return nil
}

// errChangedSince says that what is there is not what the caller has seen.
var errChangedSince = &failure{
	status: http.StatusPreconditionFailed, code: "changed_since", field: "If-Match",
	detail: "This is not as it was when you read it, so nothing was written.", change: "Read it again, make your change to that, and send its ETag.",
}

// errThere says that there is already what was to be written only where it is not.
var errThere = &failure{
	status: http.StatusPreconditionFailed, code: "changed_since", field: "If-None-Match",
	detail: "There is something here already, so nothing was written.", change: "Read it, and send its ETag as If-Match to change it; or take another id.",
}

// hasStrongTag says whether an If-Match names the tag, by the strong comparison
// (RFC 9110, 8.8.3.2): a weak tag names nothing.
func hasStrongTag(header, tag string) bool {
	for _, part := range strings.Split(header, ",") {
		if part = strings.TrimSpace(part); part == "*" || part == tag {
			return true
		}
	}
	return false
}

// sendPut answers a PUT with what is stored and the ETag to change it by. A write
// that came in between is told as the precondition that it breaks.
func sendPut(c echo.Context, stored any, err error) error {
	if errors.Is(err, db.ErrConflict) && c.Request().Header.Get("If-Match") != "" {
		return errChangedSince
	}
	if err != nil {
		return err
	}
	out, err := jsonContent(stored)
	if err != nil {
		return err
	}
	c.Response().Header().Set("ETag", out.tag)
	return c.Blob(http.StatusOK, out.kind, out.body)
}
