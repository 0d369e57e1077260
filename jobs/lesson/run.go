package lesson

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/local"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// Run is what the jobs make of an example.
type Run struct {
	Shown    *view.Results
	Findings []finding.Finding // their places in mm, as the drawing lies at true size
	Asked    []ask.Question
	Stock    workshop.Stock
}

// Run sends the example through the jobs as far as it comes. It fails with the error
// of ctx.
func (e Example) Run(ctx context.Context, list *jobs.List) (*Run, error) {
	data := workshop.Example()
	if e.Change != nil {
		e.Change(&data)
	}
	request, err := list.Choose(data, e.On)
	if err != nil {
		return nil, err
	}
	done, _, err := local.Run(ctx, list.Rows, []byte(e.File), request)
	if err != nil {
		return nil, err
	}
	results := local.Results(done)
	out := &Run{Shown: list.Shown(results), Stock: request.Stock}
	for _, d := range done {
		found, asked := d.Result.Outcome()
		out.add(d.Row.Name, found)
		out.Asked = append(out.Asked, asked...)
	}
	return out, nil
}

// add takes over what a job found, with the places brought to where the drawing lies.
func (r *Run) add(job string, found []finding.Finding) {
	onto := geometry.Identity
	switch {
	case job == read.Name || job == size.Name && r.Shown.Size == nil:
		onto = geometry.Scale(r.Shown.Drawing.Unit.MM, r.Shown.Drawing.Unit.MM)
	case job == size.Name:
		onto = r.Shown.Size.Transform
	case r.Shown.Artwork != nil:
		onto = geometry.Translate(r.Shown.Artwork.Origin.X, r.Shown.Artwork.Origin.Y)
	}
	for _, f := range found {
		f.Places = finding.Moved(f.Places, onto)
		r.Findings = append(r.Findings, f)
	}
}

// Find returns the finding of a code, nil where there is none.
func (r *Run) Find(code finding.Code) *finding.Finding {
	for i := range r.Findings {
		if r.Findings[i].Code == code {
			return &r.Findings[i]
		}
	}
	return nil
}

// Question returns what is asked about a code, nil where nothing is.
func (r *Run) Question(code finding.Code) *ask.Question {
	all := ask.All(r.Asked)
	for i := range all {
		if all[i].Code == code {
			return &all[i]
		}
	}
	return nil
}
