package plan_test

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"knifedesk/geometry/ask"
	"knifedesk/geometry/finding"
	"knifedesk/geometry/internal/reference"
	"knifedesk/geometry/plan"
	"knifedesk/geometry/workshop"
)

// Every real and made file of the reference drawings runs through all stages,
// each question answered with the first answer: no stage fails or panics. Times
// are logged and not judged.
func TestReferenceDrawingsRunThrough(t *testing.T) {
	for _, format := range []string{"dxf", "svg", "pdf"} {
		files, err := filepath.Glob(filepath.Join(reference.Path(t, "drawings", format), "*."+format+"*"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			t.Run(filepath.Base(path), func(t *testing.T) {
				file, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				for _, stock := range []string{"card-160-a3", "film-removable-610", "stencil-a3"} {
					began := time.Now()
					last := runThrough(t, file, stock)
					if took := time.Since(began); took > time.Second {
						t.Logf("%s: %.1f s, ended at %s", stock, took.Seconds(), last)
					}
				}
			})
		}
	}
}

// runThrough answers up to twenty questions and returns where the plan ended.
func runThrough(t *testing.T, file []byte, stock string) string {
	t.Helper()
	req, err := plan.Choose(workshop.Starter(), plan.Choices{Stock: stock, Copies: 2, Replies: ask.Replies{}})
	if err != nil {
		t.Fatal(err)
	}
	results := map[string]json.RawMessage{}
	stages := plan.Stages()
	for i, questions := 0, 0; i < len(stages); i++ {
		s := stages[i]
		body, res, err := s.Execute(context.Background(), plan.Input{File: file, Request: req, Results: results})
		if err != nil {
			t.Fatalf("%s: %v", stock, err)
		}
		results[s.Name] = body
		fs, qs := res.Outcome()
		if len(qs) > 0 && questions < 20 {
			req.Replies[qs[0].ID] = ask.Reply{Answer: qs[0].Answers[0].ID, MM: 100}
			questions++
			i = -1
			continue
		}
		if finding.Worst(fs) == finding.Block || len(qs) > 0 {
			return s.Name
		}
	}
	return "ready"
}
