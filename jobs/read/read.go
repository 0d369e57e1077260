// Package read is the first job of every plan: the bytes of a file become a
// drawing, with what is wrong with it for the cutter and what only a person can
// decide.
package read

import (
	"bytes"
	"context"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Name is the job's name, and what the IDs of its questions begin with.
const Name = "read"

// Request is what the job depends on besides the file.
type Request struct {
	Page int `json:"page,omitempty"` // of a PDF file, from 1; 0: open
	// Rules say by their layers and meanings alone on which layers nothing is cut or
	// drawn, so that text needs no outlines there; the first that matches decides.
	Rules   []workshop.Rule `json:"rules,omitempty"`
	Replies ask.Replies     `json:"replies,omitempty"`
}

// Result is a drawing as it was read, with what was found in it and what has
// to be asked about it. Places are in drawing units.
type Result struct {
	drawing.Drawing
	Findings []finding.Finding `json:"findings,omitempty"`
	// Questions are those about what was read, such as which page is meant.
	Questions []ask.Question `json:"questions,omitempty"`
}

// Outcome lists what was found and what has to be asked.
func (r *Result) Outcome() ([]finding.Finding, []ask.Question) { return r.Findings, r.Questions }

// Checkable reports whether shapes were read, and not only up to a limit.
func (r *Result) Checkable() bool {
	for _, f := range r.Findings {
		if f.Code == finding.LimitReached {
			return false
		}
	}
	return len(r.Shapes) > 0
}

// Drawing reads a file in any of the formats. What cannot be read is a drawing
// without shapes and a blocking finding that says why; the only error is that
// of a context that has ended.
func Drawing(ctx context.Context, file []byte, req Request) (*Result, error) {
	format, known := sniff(file[:min(len(file), Sniffed)])
	if !known {
		return unreadable("unknown", finding.New(finding.UnknownFormat, 1, nil)), nil
	}
	d, err := format.read(ctx, bytes.NewReader(file), req.page())
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	if err != nil {
		return unreadable(format.name, finding.New(finding.Unreadable, 1, finding.Values{"format": finding.Text(strings.ToUpper(format.name)), "reason": finding.Text(err.Error())})), nil
	}
	res := &Result{Drawing: *d, Findings: findings(req, d.Notes)}
	if len(res.Shapes) == 0 && finding.Worst(res.Findings) != finding.Block {
		res.Findings = append(res.Findings, finding.New(finding.EmptyDrawing, 1, nil))
	}
	if err := budget.Run(ctx, func(b *budget.Budget) {
		res.refuseFills(b, req)
		res.settle(b, req.Replies)
	}); err != nil {
		return nil, err
	}
	return res, nil
}

func unreadable(format string, f finding.Finding) *Result {
	return &Result{
		Drawing: drawing.Drawing{
			Format: format, Unit: drawing.Unit{Name: "none", MM: 1},
			Shapes: []drawing.Shape{}, Kinds: map[string]int{},
		},
		Findings: []finding.Finding{f},
	}
}
