package local_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// Every real and made file of the reference drawings runs through all jobs,
// each question answered with the first answer: no job fails or panics. Times
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
					_, _, err := runThrough(file, plan.Choices{Stock: stock, Copies: 2}, func(job string, took time.Duration) {
						if took > time.Second {
							t.Logf("%s: %s took %.1f s", stock, job, took.Seconds())
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

// mostQuestions bounds the questions of one plan that are answered.
const mostQuestions = 20

// runThrough answers each question with its first answer, up to mostQuestions of
// them, and tells show how long each job took. It returns the results and the
// name of the job at which the plan ended, "ready" where that is none.
func runThrough(file []byte, c plan.Choices, show func(job string, took time.Duration)) (jobs.Results, string, error) {
	c.Replies = ask.Replies{}
	req, err := list.Choose(workshop.Example(), c)
	if err != nil {
		return nil, "", err
	}
	s := stepsOf(file, req)
	results := jobs.Results{}
	for {
		last, open, err := s.untilAsked(results, show)
		if err != nil || open == nil || len(req.Replies) == mostQuestions {
			return results, last, err
		}
		if _, twice := req.Replies[open.ID]; twice {
			return results, last, fmt.Errorf("%s is answered and asked again", open.ID)
		}
		req.Replies[open.ID] = ask.Reply{Answer: open.Answers[0].ID, MM: 100}
	}
}

// untilAsked runs the jobs that are not done to the first question. It returns
// the name of the job at which the plan ended, as runThrough does.
func (s *steps) untilAsked(results jobs.Results, show func(job string, took time.Duration)) (string, *ask.Question, error) {
	nodes, err := s.nodes()
	if err != nil {
		return "", nil, err
	}
	for i := range nodes {
		n := &nodes[i]
		if s.done[n.Key] != nil {
			continue
		}
		began := time.Now()
		r, err := s.run(n)
		if err != nil {
			return n.Row.Name, nil, err
		}
		show(n.Row.Name, time.Since(began))
		results[n.Row.Name] = r
		fs, qs := r.Outcome()
		if len(qs) > 0 {
			return n.Row.Name, &qs[0], nil
		}
		if finding.Worst(fs) == finding.Block {
			return n.Row.Name, nil, nil
		}
	}
	return "ready", nil, nil
}
