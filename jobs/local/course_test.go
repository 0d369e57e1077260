package local_test

import (
	"context"
	"slices"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// What can be read of a refused drawing is looked at as far as the layout, so
// that whoever drew it is told of all faults at once.
func TestRefusedDrawingIsCheckedToTheEnd(t *testing.T) {
	const (
		sized   = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100" fill="none" stroke="#007c91">`
		unsized = `<svg xmlns="http://www.w3.org/2000/svg" fill="none" stroke="#007c91">`
		text    = `<text x="10" y="90">Hall</text>`
		twice   = `<g id="CUT"><path d="M10 10h30v30h-30z"/><path d="M10 10h30v30h-30z"/></g>`
		gap     = `<g id="CUT"><path d="M60 10h30v30h-30v-29.6"/></g>`
	)
	for name, c := range map[string]struct {
		file   string
		status plan.Status
		last   string   // job
		found  []string // all of them among the codes
		never  []string
	}{
		"sound":                  {sized + twice, plan.Ready, estimate.Name, []string{"duplicate_lines"}, []string{"live_text"}},
		"type on the notes":      {sized + twice + `<g id="NOTES">` + text + `</g>`, plan.Ready, estimate.Name, []string{"notes_left_out"}, []string{"live_text", "left_out"}},
		"type and a double":      {sized + twice + text, plan.Refused, layout.Name, []string{"live_text", "duplicate_lines"}, nil},
		"type and a question":    {sized + gap + text, plan.Refused, artwork.Name, []string{"live_text", "gap"}, nil},
		"type and no size":       {unsized + twice + text, plan.Refused, size.Name, []string{"live_text", "size_no_evidence"}, []string{"duplicate_lines"}},
		"type and no more":       {sized + text, plan.Refused, read.Name, []string{"live_text"}, []string{"nothing_drawn"}},
		"a question and no type": {sized + gap, plan.Asking, artwork.Name, []string{"gap"}, []string{"live_text"}},
	} {
		t.Run(name, func(t *testing.T) {
			req, err := list.Choose(workshop.Example(), plan.Choices{Stock: "card-220-a4"})
			if err != nil {
				t.Fatal(err)
			}
			results, status, err := local.Run(context.Background(), list.Rows, []byte(c.file+"</svg>"), req)
			if err != nil {
				t.Fatal(err)
			}
			var codes []string
			for _, r := range results {
				for _, f := range jobs.OutcomeOf(r.Result).Findings {
					codes = append(codes, string(f.Code))
				}
			}
			if last := results[len(results)-1].Row.Name; status != c.status || last != c.last {
				t.Errorf("%s after %s, want %s after %s: %v", status, last, c.status, c.last, codes)
			}
			for _, code := range c.found {
				if !slices.Contains(codes, code) {
					t.Errorf("%s is not told: %v", code, codes)
				}
			}
			for _, code := range c.never {
				if slices.Contains(codes, code) {
					t.Errorf("%s is told: %v", code, codes)
				}
			}
		})
	}
}
