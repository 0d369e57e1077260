package queue

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
)

// Read returns what the first job makes of a file, at once and without a plan.
// The result is kept under its key, so a plan for the same file finds it and no
// file is read twice. A request that holds room has taken it by Room before.
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
	if ctx.Value(holdKey{}) == nil { // else the request has room already
		leave, err := q.room.take(ctx, need(int64(len(file)), 0))
		if err != nil {
			return nil, err
		}
		defer leave()
	}
	began := time.Now()
	c, fault := crew{q}.compute(ctx, &n, file, nil, func() {})
	if fault != nil {
		return nil, fmt.Errorf("queue: reading a drawing: %w", fault)
	}
	s := &span{results: map[string]jobs.Result{}}
	if _, err := s.keep(workOn(&n, db.Batch), row, c, time.Since(began)); err != nil {
		return nil, err
	}
	return c.result, q.store.AddResults(ctx, s.done...)
}

// Results returns the results under keys, which are given by the names of their
// jobs, as store.PlanKeys has them. db.ErrNotFound: there is none under one. Within
// Holding it takes room first, and ErrFull says that there is none.
func (q *Queue) Results(ctx context.Context, keys map[string]string) (jobs.Results, error) {
	wanted := slices.Collect(maps.Values(keys))
	if ctx.Value(holdKey{}) != nil {
		_, bytes, err := q.store.StoredBytes(ctx, nil, wanted...)
		if err == nil {
			err = q.room.holding(ctx, need(0, bytes))
		}
		if err != nil {
			return nil, err
		}
	}
	stored, err := q.store.Results(ctx, wanted...)
	if err != nil {
		return nil, err
	}
	all := jobs.Results{}
	for _, r := range stored {
		at := q.place(r.Stage)
		if at < 0 {
			return nil, fmt.Errorf("queue: the result %s is of %q, which is not on the list", r.Key, r.Stage)
		}
		if all[r.Stage], err = decode(ctx, q.all[at], r); err != nil {
			return nil, err
		}
	}
	if len(all) < len(keys) {
		return nil, fmt.Errorf("queue: results: %w", db.ErrNotFound)
	}
	return all, nil
}
