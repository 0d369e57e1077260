package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"

	"github.com/riverqueue/river"
)

// The codes with which a plan fails. They are stable, and say nothing of the
// program's inside: that is in the logs, by plan and job.
const (
	FailureStage   = "stage_failed"  // an error of the program, every time
	FailureTimeout = "stage_timeout" // longer than a stage may take
	FailureWorker  = "worker_lost"   // the process died of it, every time
)

// stageError is what a stage itself ended with, as opposed to an outage.
type stageError struct {
	err   error
	stuck bool // it did not end and was left to itself
}

func (e *stageError) Error() string { return e.err.Error() }
func (e *stageError) Unwrap() error { return e.err }

func (e *stageError) code() string {
	if errors.Is(e.err, context.DeadlineExceeded) {
		return FailureTimeout
	}
	return FailureStage
}

type computed struct {
	body json.RawMessage
	res  plan.Result
	err  error
}

// compute runs the stage within its time. A panic is an error. A stage that
// does not end with its context is left to itself after the grace.
func (q *Queue) compute(ctx context.Context, stage plan.Stage, in plan.Input) (json.RawMessage, db.Outcome, *stageError) {
	ctx, cancel := context.WithTimeout(ctx, q.cfg.timeout(stage.Name))
	defer cancel()
	done := make(chan computed, 1)
	go func() { done <- execute(ctx, stage, in) }()
	var c computed
	select {
	case c = <-done:
	case <-ctx.Done():
		select {
		case c = <-done:
		case <-time.After(q.cfg.Grace):
			return nil, db.Outcome{}, &stageError{err: context.Cause(ctx), stuck: true}
		}
	}
	if c.err == nil && ctx.Err() != nil {
		c.err = context.Cause(ctx) // cut short: not to be trusted
	}
	if c.err != nil {
		return nil, db.Outcome{}, &stageError{err: c.err}
	}
	return c.body, outcomeOf(c.res), nil
}

func execute(ctx context.Context, stage plan.Stage, in plan.Input) (c computed) {
	defer func() {
		if p := recover(); p != nil {
			c = computed{err: fmt.Errorf("stage %s: panic: %v\n%s", stage.Name, p, debug.Stack())}
		}
	}()
	c.body, c.res, c.err = stage.Execute(ctx, in)
	return c
}

func outcomeOf(r plan.Result) db.Outcome {
	findings, questions := r.Outcome()
	part, ok := r.(plan.Part)
	return db.Outcome{Findings: findings, Questions: questions, Checkable: ok && part.Checkable()}
}

// ended notes that the attempt led to no result. The error it returns tells
// the queue whether to try again.
func (q *Queue) ended(ctx context.Context, a attempt, log *slog.Logger, took time.Duration, fault *stageError) error {
	if cause := context.Cause(ctx); cause != nil { // nobody waits any more, or the worker stops
		log.Info("stage stopped", "cause", cause, "stuck", fault.stuck)
		q.metrics.ran(a.Stage, "stopped", took)
		return cause
	}
	q.metrics.ran(a.Stage, "fault", took)
	log.Error("stage failed", "err", fault.err, "stuck", fault.stuck)
	var givenUp int
	var mine bool
	err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
		givenUp = 0
		if mine, err = q.owns(ctx, tx, a); err != nil || !mine {
			return err
		}
		w, err := tx.CountFault(ctx, a.Key)
		if err != nil || w.Faults < q.cfg.Faults && !fault.stuck {
			return err
		}
		givenUp, err = q.fail(ctx, tx, a.Key, fault.code())
		return err
	})
	if err != nil {
		return errors.Join(err, fault)
	}
	if !mine {
		return q.standBack(ctx, a)
	}
	if givenUp > 0 {
		q.noteFailed(givenUp, log, fault.code())
		return river.JobCancel(fault)
	}
	return fault
}

// fail ends the work on a key and fails the plans that wait for it. It returns
// how many did.
func (q *Queue) fail(ctx context.Context, tx db.Tx, key, code string) (int, error) {
	waiting, err := tx.LockWaiting(ctx, key)
	if err != nil {
		return 0, err
	}
	if err := tx.StagesEnded(ctx, key, db.StageFailed); err != nil {
		return 0, err
	}
	if err := tx.EndWork(ctx, key); err != nil {
		return 0, err
	}
	for _, p := range waiting {
		if err := tx.SetStatus(ctx, p.ID, db.Failed, code); err != nil {
			return 0, err
		}
	}
	return len(waiting), nil
}

func (q *Queue) noteFailed(plans int, log *slog.Logger, code string) {
	q.metrics.settled.WithLabelValues(string(db.Failed)).Add(float64(plans))
	log.Error("plans failed", "plans", plans, "code", code)
}
