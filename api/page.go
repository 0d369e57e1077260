package api

import (
	"embed"
	"io/fs"
	"mime"
	"path"

	"github.com/labstack/echo/v4"
)

// pageFiles are the page at / and what it loads: a working example of a
// submission form that uses nothing but this API. The drawings among them are
// those of the demo.
//
//go:embed page
var pageFiles embed.FS

// pagePolicy lets the page load its own files and speak to this service, and
// nothing else.
const pagePolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// page answers GET / with the page.
func page(c echo.Context) error { return sendPageFile(c, "index.html") }

// measurePath is where the page behind the codes on sheets is.
const measurePath = "/measure"

// measurePage answers GET /measure with a page that asks what was measured.
func measurePage(c echo.Context) error { return sendPageFile(c, "measure.html") }

// pagePart answers GET /page/{file} with one of the files that the page loads.
func pagePart(c echo.Context) error { return sendPageFile(c, c.Param("file")) }

func sendPageFile(c echo.Context, name string) error {
	body, err := fs.ReadFile(pageFiles, path.Join("page", path.Base(name)))
	if err != nil {
		return notFound("file")
	}
	c.Response().Header().Set(echo.HeaderContentSecurityPolicy, pagePolicy)
	return send(c, newContent(mime.TypeByExtension(path.Ext(name)), body))
}
