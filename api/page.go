package api

import (
	"mime"
	"path"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/api/page"
)

// measurePath is where the page behind the codes on sheets is.
const measurePath = "/measure"

// pageFile answers with a file of the pages.
func pageFile(name string) echo.HandlerFunc {
	return func(c echo.Context) error {
		named := name
		if named == "" {
			named = c.Param("file")
		}
		body, err := page.File(named)
		if err != nil || strings.Contains(named, "/") {
			return notFound("file")
		}
		c.Response().Header().Set(echo.HeaderContentSecurityPolicy, page.Policy)
		return send(c, newContent(mime.TypeByExtension(path.Ext(named)), body))
	}
}
