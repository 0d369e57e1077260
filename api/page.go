package api

import (
	_ "embed"
	"net/http"

	"github.com/labstack/echo/v4"
)

//go:embed page.html
var pageHTML []byte

// page answers GET / with a small submission form: a working example of how a
// course page uses this API.
func page(c echo.Context) error { return c.HTMLBlob(http.StatusOK, pageHTML) }
