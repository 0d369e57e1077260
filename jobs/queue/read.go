package queue

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// Read returns what the first job makes of a file, at once and without a plan.
// The result is kept under its key, so a plan for the same file finds it and no
// file is read twice.
func (q *Queue) Read(ctx context.Context, file []byte) (jobs.Result, error) {
	row := q.rows[0]
	n, err := jobs.NewNode(row, &plan.Request{}, sha256.Sum256(file))
	if err != nil {
		return nil, err
	}
	found, err := q.store.Result(ctx, string(n.Key))
	if err == nil {
		return decode(ctx, row, found)
	}
	if !errors.Is(err, db.ErrNotFound) {
		return nil, err
	}
	began := time.Now()
	c, fault := q.compute(ctx, &n, file, nil, func() {})
	if fault != nil {
		return nil, fmt.Errorf("queue: reading a drawing: %w", fault)
	}
	s := &span{results: map[string]jobs.Result{}}
	if _, err := s.keep(workOn(&n, db.Batch), row, c, time.Since(began)); err != nil {
		return nil, err
	}
	return c.result, q.store.AddResults(ctx, s.done...)
}

// Results returns the results that a plan has, of all its jobs or of those
// named, and their keys by the names of the jobs.
func (q *Queue) Results(ctx context.Context, id uuid.UUID, names ...string) (jobs.Results, error) {
	stored, err := q.store.PlanResults(ctx, id, names...)
	if err != nil {
		return nil, err
	}
	all := jobs.Results{}
	for _, r := range stored {
		at := q.place(r.Stage)
		if at < 0 {
			continue // of a newer program
		}
		if all[r.Stage], err = decode(ctx, q.rows[at], r); err != nil {
			return nil, err
		}
	}
	return all, nil
}
