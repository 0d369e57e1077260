package queue_test

import (
	"context"
	"slices"
	"testing"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
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
		status db.Status
		last   string   // stage
		found  []string // all of them among the codes
		never  []string
	}{
		"sound":                  {sized + twice, db.Ready, "estimate", []string{"duplicate_lines"}, []string{"live_text"}},
		"type and a double":      {sized + twice + text, db.Refused, plan.StageLayout, []string{"live_text", "duplicate_lines"}, nil},
		"type and a question":    {sized + gap + text, db.Refused, plan.StageArtwork, []string{"live_text", "gap"}, nil},
		"type and no size":       {unsized + twice + text, db.Refused, plan.StageSize, []string{"live_text", "size_no_evidence"}, []string{"duplicate_lines"}},
		"type and no more":       {sized + text, db.Refused, plan.StageRead, []string{"live_text"}, []string{"nothing_drawn"}},
		"a question and no type": {sized + gap, db.Asking, plan.StageArtwork, []string{"gap"}, []string{"live_text"}},
	} {
		t.Run(name, func(t *testing.T) {
			req, err := plan.Choose(workshop.Example(), plan.Choices{Stock: "card-220-a4"})
			if err != nil {
				t.Fatal(err)
			}
			results, status, err := queue.Local(context.Background(), queue.Stages(), []byte(c.file+"</svg>"), *req)
			if err != nil {
				t.Fatal(err)
			}
			var codes []string
			for _, r := range results {
				for _, f := range r.Outcome.Findings {
					codes = append(codes, string(f.Code))
				}
			}
			if last := results[len(results)-1].Stage; status != c.status || last != c.last {
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
