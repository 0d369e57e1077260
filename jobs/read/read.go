package read

import (
	"bytes"
	"context"
	"strings"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// HeadBytes is how much of a file is looked at to tell its format.
const HeadBytes = 4096

// Name is the name of the job that reads a drawing.
const Name = "read"

// Request is what the job reads of a request besides the file.
type Request struct {
	Page    int         `json:"page,omitempty"`
	Replies ask.Replies `json:"replies,omitempty"`
}

// Result is the drawing as read.
type Result = drawing.Drawing

// Drawing reads a drawing.
func Drawing(_ context.Context, file []byte, r Request) (*Result, error) {
	d := read(file, page(r))
	settleRead(d, r.Replies)
	return d, nil
}

// read reads a drawing in any of the formats. It never fails: what cannot be
// read is a drawing without shapes and a blocking finding that says why. page
// is the page of a PDF file, from 1; with 0 the first is read, and the finding
// several_pages tells of others.
func read(file []byte, page int) *drawing.Drawing {
	head := file[:min(len(file), HeadBytes)]
	var d *drawing.Drawing
	var err error
	var format string
	switch {
	case pdf.Sniff(head):
		format = "pdf"
		d, err = pdf.Read(bytes.NewReader(file), pdf.Options{Page: page})
	case svg.Sniff(head):
		format = "svg"
		d, err = svg.Read(bytes.NewReader(file), svg.Options{})
	case dxf.Sniff(head):
		format = "dxf"
		d, err = dxf.Read(bytes.NewReader(file), dxf.Options{})
	default:
		return unreadable("unknown", finding.New(finding.UnknownFormat, 1, nil))
	}
	if err != nil {
		return unreadable(format, finding.New(finding.Unreadable, 1, map[string]any{"format": strings.ToUpper(format), "reason": err.Error()}))
	}
	if len(d.Shapes) == 0 && finding.Worst(d.Findings) != finding.Block {
		d.Findings = append(d.Findings, finding.New(finding.EmptyDrawing, 1, nil))
	}
	return d
}

// PageError says that a page was asked for of a file that has none.
type PageError struct{}

func (PageError) Error() string { return "only a PDF file has pages" }

// CheckPage refuses a page of a file that has none, by the first Sniffed bytes.
func CheckPage(head []byte, page int) error {
	if page == 0 || pdf.Sniff(head[:min(len(head), HeadBytes)]) {
		return nil
	}
	return PageError{}
}

func unreadable(format string, f finding.Finding) *drawing.Drawing {
	return &drawing.Drawing{
		Format: format, Unit: drawing.Unit{Name: "none", MM: 1},
		Shapes: []drawing.Shape{}, Kinds: map[string]int{}, Findings: []finding.Finding{f},
	}
}
