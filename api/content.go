package api

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// content is what an answer consists of: its media type, its bytes, and a tag
// that changes with them.
type content struct {
	kind string
	body []byte
	tag  string
	file string // its name where it is a file to keep, else empty
}

func newContent(kind string, body []byte) content {
	sum := sha256.Sum256(body)
	return content{kind: kind, body: body, tag: `"` + hex.EncodeToString(sum[:12]) + `"`}
}

func jsonContent(value any) (content, error) {
	body, err := json.Marshal(value)
	return newContent(echo.MIMEApplicationJSON, body), err
}

// sendJSON answers a read with JSON that a client may keep.
func sendJSON(c echo.Context, value any) error {
	out, err := jsonContent(value)
	if err != nil {
		return err
	}
	return send(c, out)
}

// send answers a read with an ETag, or with 304 where the client has it.
func send(c echo.Context, out content) error {
	c.Response().Header().Set("ETag", out.tag)
	c.Response().Header().Set(echo.HeaderCacheControl, "private, no-cache")
	if out.file != "" {
		c.Response().Header().Set(echo.HeaderContentDisposition, fmt.Sprintf("attachment; filename=%q", out.file))
	}
	if hasTag(c.Request().Header.Get("If-None-Match"), out.tag) {
		return c.NoContent(http.StatusNotModified)
	}
	return c.Blob(http.StatusOK, out.kind, out.body)
}

// sendMade answers a read with what is kept under key, or what make makes.
func (t *tools) sendMade(c echo.Context, key string, make func(context.Context) (content, error)) error {
	out, err := t.made.get(c.Request().Context(), key, make)
	if err != nil {
		return err
	}
	return send(c, out)
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
