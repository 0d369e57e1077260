package queue

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
	"github.com/riverqueue/river"
)

// The codes with which a plan fails. They are stable, and say nothing of the
// program's inside: that is in the logs, by plan and job.
const (
	FailureStage   = "stage_failed"  // an error of the program, every time
	FailureTimeout = "stage_timeout" // longer than a run may take
	FailureWorker  = "worker_lost"   // the process died of it, every time
)

// runError is what a run ended with.
type runError struct {
	err    error
	stuck  bool // it did not end and was left to itself
	outage bool // it never began: what it needs could not be had
}

func (e *runError) Error() string { return e.err.Error() }
func (e *runError) Unwrap() error { return e.err }

func (e *runError) code() string {
	if errors.Is(e.err, context.DeadlineExceeded) {
		return FailureTimeout
	}
	return FailureStage
}

// errFailed ends a job whose plans have failed.
func errFailed(fault *runError) error { return river.JobCancel(fault) }

// compute runs a node within its time. A panic is an error. A run that does not
// end with its context is left to itself after the grace. Where it takes a while,
// meanwhile is called, and then again and again.
func (q crew) compute(ctx context.Context, n *jobs.Node, file []byte, needs []jobs.Result, meanwhile func()) (computed, *runError) {
	limit := n.Row.Timeout
	if limit <= 0 {
		limit = q.cfg.Timeout
	}
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	done := make(chan computed, 1)
	go func() { done <- runNode(ctx, n, file, needs) }()
	c, ended := computed{}, false
	for wait := often; !ended && ctx.Err() == nil; {
		select {
		case c = <-done:
			ended = true
		case <-ctx.Done():
		case <-time.After(wait):
			meanwhile()
			wait = onlook
		}
	}
	if !ended {
		select {
		case c = <-done:
		case <-time.After(q.cfg.Grace):
			return computed{}, &runError{err: context.Cause(ctx), stuck: true}
		}
	}
	if ctx.Err() != nil {
		c.err = context.Cause(ctx) // cut short: not to be trusted
	}
	if c.err != nil {
		return computed{}, &runError{err: c.err}
	}
	return c, nil
}

func runNode(ctx context.Context, n *jobs.Node, file []byte, needs []jobs.Result) (c computed) {
	defer func() {
		if p := recover(); p != nil {
			c = computed{err: fmt.Errorf("job %s: panic: %v\n%s", n.Row.Name, p, debug.Stack())}
		}
	}()
	c.result, c.body, c.err = n.Run(ctx, file, needs)
	return c
}

// fail ends the work of a span and fails the plans that wait for some of it,
// because the result under key cannot be had.
func (q crew) fail(ctx context.Context, tx db.Tx, keys []string, key, code string) ([]*move, error) {
	waiting, groups, err := tx.LockWaiting(ctx, keys, keys)
	if err != nil {
		return nil, err
	}
	if err := q.failGroups(ctx, tx, groups, code); err != nil {
		return nil, err
	}
	if err := tx.EndWork(ctx, keys...); err != nil {
		return nil, err
	}
	var failed []*move
	for _, p := range waiting {
		m := &move{Queue: q.Queue, tx: tx, plan: p}
		if err := m.endAs(ctx, plan.Failed, code); err != nil {
			return nil, err
		}
		if err := tx.StagesFailed(ctx, key, []uuid.UUID{p.ID}); err != nil {
			return nil, err
		}
		failed = append(failed, m)
	}
	return failed, nil
}

// failGroups fails groups of class sets.
func (q crew) failGroups(ctx context.Context, tx db.Tx, groups []db.ClassGroup, code string) error {
	for _, g := range groups {
		g.Status, g.Failure = groupFailed, code
		if err := tx.SetClassGroup(ctx, g); err != nil {
			return err
		}
	}
	return q.lookLater(ctx, tx, setsOf(groups)...)
}

func (q crew) noteFailed(failed []*move, log *slog.Logger, code string) {
	if len(failed) > 0 {
		q.metrics.settled.WithLabelValues(string(plan.Failed)).Add(float64(len(failed)))
		log.Error("plans failed", "plans", len(failed), "code", code)
	}
}
