package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
)

// Read returns what the first stage makes of a file, at once and without a
// plan. The result is kept under its key, so a plan for the same file finds it
// and no file is read twice.
func (q *Queue) Read(ctx context.Context, file []byte) (json.RawMessage, error) {
	stage := q.stages[0]
	in := plan.Input{File: file, Request: &plan.Request{}}
	key, err := stage.Key(in)
	if err != nil {
		return nil, err
	}
	found, err := q.store.Result(ctx, key)
	if err == nil {
		return found.Body, nil
	}
	if !errors.Is(err, db.ErrNotFound) {
		return nil, err
	}
	began := time.Now()
	body, outcome, fault := q.compute(ctx, stage, in)
	if fault != nil {
		return nil, fmt.Errorf("jobs: reading a drawing: %w", fault)
	}
	return body, q.store.AddResult(ctx, key, stage.Name, body, outcome, time.Since(began))
}
