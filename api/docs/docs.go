// Package docs holds the pages at /docs for those who call the service: from a
// shell, from a form of their own, from a booking system. They are plain HTML
// without a script, and what they show to be copied is run by a test.
package docs

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"mime"
	"path"

	"knifedesk/jobs/finding"
)

//go:embed *.html *.css
var files embed.FS

// Policy lets a page load its own style and nothing else.
const Policy = "default-src 'none'; style-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// Pages are the pages as they are sent, by the end of their address.
type Pages map[string]Page

// Page is one of them, or what they load.
type Page struct {
	Kind string // its media type
	Body []byte
}

// sheet is one page in the list that stands on each.
type sheet struct{ Name, File, Title string }

func sheets() []sheet {
	return []sheet{
		{"", "index.html", "Overview"},
		{"curl", "curl.html", "In a shell"},
		{"form", "form.html", "A form of your own"},
		{"booking", "booking.html", "A booking system"},
		{"codes", "codes.html", "Codes"},
	}
}

// New makes the pages. An error is a fault of the files that they are made of.
func New() (Pages, error) {
	frame, err := template.ParseFS(files, "frame.html", "codes.html")
	if err != nil {
		return nil, fmt.Errorf("docs: %w", err)
	}
	all := Pages{}
	for _, s := range sheets() {
		text, err := text(frame, s.File)
		if err != nil {
			return nil, fmt.Errorf("docs: %s: %w", s.File, err)
		}
		var out bytes.Buffer
		err = frame.ExecuteTemplate(&out, "frame.html", map[string]any{"Here": s, "Sheets": sheets(), "Text": template.HTML(text)})
		if err != nil {
			return nil, fmt.Errorf("docs: %s: %w", s.File, err)
		}
		all[s.Name] = Page{"text/html; charset=utf-8", out.Bytes()}
	}
	style, err := fs.ReadFile(files, "docs.css")
	all["docs.css"] = Page{mime.TypeByExtension(path.Ext("docs.css")), style}
	return all, err
}

// text is what stands on a page: a file, and for the codes what the catalogues
// say.
func text(frame *template.Template, file string) ([]byte, error) {
	if file != "codes.html" {
		return fs.ReadFile(files, file)
	}
	var out bytes.Buffer
	err := frame.ExecuteTemplate(&out, file, map[string]any{"Problems": Problems(), "Findings": finding.Entries()})
	return out.Bytes(), err
}
