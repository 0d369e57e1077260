package queue

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"

	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"
)

// attempt is one run of a job.
type attempt struct {
	Task
	job      int64
	number   int
	complete func(pgx.Tx) error // marks the job done
}

// work claims the task, computes its result and takes it in. An error is an
// outage or a fault of the stage, and the queue tries again.
func (q *Queue) work(ctx context.Context, a attempt) error {
	log := q.log.With("job", a.job, "attempt", a.number, "stage", a.Stage, "plan", a.Plan)
	stage, ok := q.stage(a.Stage)
	if !ok || a.Revision > stage.Revision {
		log.Warn("job left for a newer worker", "revision", a.Revision)
		return river.JobSnooze(2 * time.Second)
	}
	in, err := q.claim(ctx, a, log, stage)
	if err != nil {
		return err
	}
	if in == nil {
		return q.standBack(ctx, a)
	}
	began := time.Now()
	body, outcome, fault := q.compute(ctx, stage, *in)
	took := time.Since(began)
	if fault != nil {
		return q.ended(ctx, a, log, took, fault)
	}
	q.metrics.ran(a.Stage, "done", took)
	return q.finish(ctx, a, log, result{body, outcome, took})
}

func (q *Queue) stage(name string) (plan.Stage, bool) {
	for _, s := range q.stages {
		if s.Name == name {
			return s, true
		}
	}
	return plan.Stage{}, false
}

// claim makes the attempt the owner of the work and returns what to compute
// with; nil where there is nothing left to do.
func (q *Queue) claim(ctx context.Context, a attempt, log *slog.Logger, stage plan.Stage) (*plan.Input, error) {
	var in *plan.Input
	var failed int
	err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
		in, failed = nil, 0
		if err := tx.LockKey(ctx, a.Key); err != nil {
			return err
		}
		w, err := tx.Work(ctx, a.Key)
		if errors.Is(err, db.ErrNotFound) || err == nil && (w.Job != a.job || w.Attempt > a.number) {
			return nil // given up, or another job's or a later attempt's by now
		}
		if err != nil {
			return err
		}
		if a.Revision < stage.Revision {
			return q.rekey(ctx, tx, a.Key)
		}
		if w, err = tx.StartWork(ctx, a.Key, a.number); err != nil {
			return err
		}
		if w.Losses >= q.cfg.Losses {
			failed, err = q.fail(ctx, tx, a.Key, FailureWorker)
			return err
		}
		in, err = q.begun(ctx, tx, a.Key, stage)
		return err
	})
	if err == nil && failed > 0 {
		q.noteFailed(failed, log, FailureWorker)
	}
	return in, err
}

// begun tells the plans that wait that their stage runs now, and loads what
// it runs on: the same for all of them, since the key is.
func (q *Queue) begun(ctx context.Context, tx db.Tx, key string, stage plan.Stage) (*plan.Input, error) {
	waiting, err := tx.LockWaiting(ctx, key)
	if err != nil {
		return nil, err
	}
	if len(waiting) == 0 { // the plans were erased
		return nil, tx.EndWork(ctx, key)
	}
	if err := tx.StagesStarted(ctx, key); err != nil {
		return nil, err
	}
	for _, p := range waiting {
		if err := tx.SetStatus(ctx, p.ID, db.Working, ""); err != nil {
			return nil, err
		}
	}
	return load(ctx, tx, waiting[0], stage)
}

func load(ctx context.Context, tx db.Tx, p db.Plan, stage plan.Stage) (*plan.Input, error) {
	in := &plan.Input{Request: &p.Request, Results: map[string]json.RawMessage{}}
	if len(stage.Needs) == 0 {
		var err error
		in.File, err = tx.File(ctx, p.Hash)
		return in, err
	}
	results, err := tx.PlanResults(ctx, p.ID, stage.Needs...)
	for _, r := range results {
		in.Results[r.Stage] = r.Body
	}
	return in, err
}

// rekey ends the work on a key without a result, and has the plans that waited
// go through the stages anew: those of this program, which may have another
// revision than the one that made the key.
func (q *Queue) rekey(ctx context.Context, tx db.Tx, key string) error {
	waiting, err := tx.LockWaiting(ctx, key)
	if err != nil {
		return err
	}
	if err := tx.EndWork(ctx, key); err != nil {
		return err
	}
	for _, p := range waiting {
		if err := (&move{Queue: q, tx: tx, plan: p}).restart(ctx); err != nil {
			return err
		}
	}
	return nil
}

type result struct {
	body    []byte
	outcome db.Outcome
	took    time.Duration
}

// finish takes the result in and moves everybody who waited on, unless the
// work is another's by now.
func (q *Queue) finish(ctx context.Context, a attempt, log *slog.Logger, r result) error {
	var moves []*move
	var mine bool
	err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
		moves = nil
		if mine, err = q.owns(ctx, tx, a); err != nil || !mine {
			return err
		}
		waiting, err := tx.LockWaiting(ctx, a.Key)
		if err != nil {
			return err
		}
		if err := keep(ctx, tx, a, r); err != nil {
			return err
		}
		for _, p := range waiting {
			m := &move{Queue: q, tx: tx, plan: p}
			moves = append(moves, m)
			if err := m.on(ctx); err != nil {
				return err
			}
		}
		return a.complete(tx.Raw)
	})
	switch {
	case err != nil:
		return err
	case !mine:
		log.Warn("result dropped: the work is no longer this attempt's")
		return q.standBack(ctx, a)
	default:
		log.Info("stage done", "seconds", r.took.Seconds(), "plans", len(moves))
		q.note(moves...)
	}
	return nil
}

// owns locks the key and says whether the attempt still owns the work on it.
func (q *Queue) owns(ctx context.Context, tx db.Tx, a attempt) (bool, error) {
	if err := tx.LockKey(ctx, a.Key); err != nil {
		return false, err
	}
	w, err := tx.Work(ctx, a.Key)
	if errors.Is(err, db.ErrNotFound) {
		return false, nil
	}
	return err == nil && w.Job == a.job && w.Attempt == a.number, err
}

// keep stores the result and ends the work on it.
func keep(ctx context.Context, tx db.Tx, a attempt, r result) error {
	if err := tx.AddResult(ctx, a.Key, a.Stage, r.body, r.outcome, r.took); err != nil {
		return err
	}
	if err := tx.StagesEnded(ctx, a.Key, db.StageDone); err != nil {
		return err
	}
	return tx.EndWork(ctx, a.Key)
}

// note counts and logs what moves led to, once they are committed.
func (q *Queue) note(moves ...*move) {
	for _, m := range moves {
		for _, stage := range m.reused {
			q.metrics.reused.WithLabelValues(stage).Inc()
		}
		if m.end != "" {
			q.metrics.settled.WithLabelValues(string(m.end)).Inc()
			q.log.Info("plan settled", "plan", m.plan.ID, "status", m.end)
		}
	}
}
