package plan_test

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
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
					_, err := runThrough(file, plan.Choices{Stock: stock, Copies: 2}, func(stage string, _ plan.Result, took time.Duration) {
						if took > time.Second {
							t.Logf("%s: %s took %.1f s", stock, stage, took.Seconds())
						}
					})
					if err != nil {
						t.Errorf("%s: %v", stock, err)
					}
				}
			})
		}
	}
}

// runThrough answers each question with its first answer, up to twenty of them,
// shows what each stage gave and how long it took, and returns where the plan
// ended.
func runThrough(file []byte, c plan.Choices, show func(stage string, res plan.Result, took time.Duration)) (string, error) {
	c.Replies = ask.Replies{}
	req, err := plan.Choose(workshop.Example(), c)
	if err != nil {
		return "", err
	}
	results := map[string]json.RawMessage{}
	stages := plan.Stages()
	for i, questions := 0, 0; i < len(stages); i++ {
		s := stages[i]
		began := time.Now()
		body, res, err := s.Execute(context.Background(), plan.Input{File: file, Request: req, Results: results})
		if err != nil {
			return s.Name, err
		}
		show(s.Name, res, time.Since(began))
		results[s.Name] = body
		fs, qs := res.Outcome()
		if len(qs) > 0 && questions < 20 {
			req.Replies[qs[0].ID] = ask.Reply{Answer: qs[0].Answers[0].ID, MM: 100}
			questions++
			i-- // only this stage reads the reply
			continue
		}
		if finding.Worst(fs) == finding.Block || len(qs) > 0 {
			return s.Name, nil
		}
	}
	return "ready", nil
}
