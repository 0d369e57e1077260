// Package page holds the page at /, a working example of a submission form that uses
// nothing but the API, and the page behind the codes on sheets. The drawings among its
// files are those of the demo.
package page

import (
	"embed"
	"io/fs"
	"path"
)

//go:embed *.html *.css *.js *.svg
var files embed.FS

// Policy lets a page load its own files and speak to its service, and nothing else
// (Content Security Policy).
const Policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// File returns one of the files. It fails with fs.ErrNotExist.
func File(name string) ([]byte, error) { return fs.ReadFile(files, path.Base(name)) }
