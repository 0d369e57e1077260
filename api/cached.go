package api

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// sendJSON answers a read with JSON that a client may keep.
func sendJSON(c echo.Context, value any) error {
	body, err := json.Marshal(value)
	if err != nil {
		return err
	}
	return sendCached(c, echo.MIMEApplicationJSON, body)
}

// sendCached sends bytes with an ETag, or 304 where the client has them.
func sendCached(c echo.Context, kind string, body []byte) error {
	sum := sha256.Sum256(body)
	tag := `"` + hex.EncodeToString(sum[:12]) + `"`
	c.Response().Header().Set("ETag", tag)
	c.Response().Header().Set(echo.HeaderCacheControl, "private, no-cache")
	if hasTag(c.Request().Header.Get("If-None-Match"), tag) {
		return c.NoContent(http.StatusNotModified)
	}
	return c.Blob(http.StatusOK, kind, body)
}

// hasTag says whether an If-None-Match names the tag, by the weak comparison
// (RFC 9110, 8.8.3.2 and 13.1.2). Our tags hold no commas.
func hasTag(header, tag string) bool {
	for _, part := range strings.Split(header, ",") {
		part = strings.TrimSpace(part)
		if part == "*" || strings.TrimPrefix(part, "W/") == tag {
			return true
		}
	}
	return false
}
