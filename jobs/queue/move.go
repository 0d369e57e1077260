package queue

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/plan"

	"github.com/riverqueue/river"
)

// maxAttempts is the queue's own bound. Faults of stages are counted in the
// work's row and end it sooner; what is left are outages, which pass.
const maxAttempts = 25

// move takes one plan from stage to stage within a transaction.
type move struct {
	*Queue
	tx     db.Tx
	plan   db.Plan
	held   string   // the key that the plan waits for as the move begins
	reused []string // the stages whose results were there
	end    db.Status
}

// on moves the plan on until it waits for a result or is settled.
func (m *move) on(ctx context.Context) error {
	have, sums, err := m.standing(ctx)
	if err != nil {
		return err
	}
	var c course
	for _, stage := range m.stages {
		if m.end = c.before(stage); m.end != "" {
			return m.settle(ctx)
		}
		head, ok := have[stage.Name]
		if !ok {
			if head, ok, err = m.reach(ctx, stage, sums); err != nil || !ok {
				return err
			}
		}
		sums.Results[stage.Name] = plan.Sum(head.Sum)
		if m.end = c.after(head.Outcome); m.end != "" {
			return m.settle(ctx)
		}
	}
	m.end = c.end()
	return m.settle(ctx)
}

// standing returns the results that the plan has, and the sums that further
// keys are made of.
func (m *move) standing(ctx context.Context) (map[string]db.Head, plan.Sums, error) {
	sums := plan.Sums{File: plan.Sum(m.plan.Hash), Results: map[string]plan.Sum{}}
	heads, err := m.tx.PlanHeads(ctx, m.plan.ID)
	have := make(map[string]db.Head, len(heads))
	for _, h := range heads {
		have[h.Stage] = h
	}
	return have, sums, err
}

func (m *move) settle(ctx context.Context) error {
	if err := m.leave(ctx); err != nil {
		return err
	}
	return m.tx.SetStatus(ctx, m.plan.ID, m.end, "")
}

// reach returns the result of a stage where it is there; otherwise the plan
// waits for it from now on.
func (m *move) reach(ctx context.Context, stage plan.Stage, sums plan.Sums) (db.Head, bool, error) {
	key, err := stage.KeyFromSums(&m.plan.Request, sums)
	if err != nil {
		return db.Head{}, false, err
	}
	head, err := m.tx.Head(ctx, key)
	if errors.Is(err, db.ErrNotFound) {
		// Look again with the key locked: it may come in at this moment. A
		// result that is there needs no lock, for it stays.
		if err := m.tx.LockKey(ctx, key); err != nil {
			return head, false, err
		}
		head, err = m.tx.Head(ctx, key)
	}
	if errors.Is(err, db.ErrNotFound) {
		return head, false, m.wait(ctx, stage, key)
	}
	if err != nil {
		return head, false, err
	}
	m.reused = append(m.reused, stage.Name)
	return head, true, m.tx.StageReused(ctx, m.plan.ID, stage.Name, key)
}

// wait has the plan wait for the result under key, and makes sure that a job
// computes it.
func (m *move) wait(ctx context.Context, stage plan.Stage, key string) error {
	w, err := m.tx.Work(ctx, key)
	switch {
	case errors.Is(err, db.ErrNotFound):
		w, err = m.begin(ctx, stage, key)
	case err == nil && w.Queue == db.Batch && m.plan.Queue == db.Interactive && w.Started == nil:
		err = m.giveToNewJob(ctx, w, stage, db.Interactive) // a person waits now
	}
	if err != nil {
		return err
	}
	if key != m.held {
		if err := m.leave(ctx); err != nil {
			return err
		}
		if err := m.tx.AddWaiter(ctx, m.plan.ID, key); err != nil {
			return err
		}
	}
	if err := m.tx.StageWaits(ctx, m.plan.ID, stage.Name, key, w.Started); err != nil {
		return err
	}
	status := db.Queued
	if w.Started != nil || m.plan.Status == db.Working {
		status = db.Working
	}
	return m.tx.SetStatus(ctx, m.plan.ID, status, "")
}

// begin inserts the job that computes key.
func (m *move) begin(ctx context.Context, stage plan.Stage, key string) (db.Work, error) {
	w := db.Work{Key: key, Stage: stage.Name, Queue: m.plan.Queue}
	var err error
	if w.Job, err = m.insert(ctx, m.tx, m.task(stage, key), w.Queue); err != nil {
		return w, err
	}
	return w, m.tx.AddWork(ctx, w)
}

func (m *move) task(stage plan.Stage, key string) Task {
	return Task{Key: key, Stage: stage.Name, Revision: stage.Revision, Plan: m.plan.ID}
}

// giveToNewJob replaces the job of some work by one in another queue.
func (m *move) giveToNewJob(ctx context.Context, w db.Work, stage plan.Stage, queue db.Queue) error {
	if err := m.cancelJob(ctx, m.tx, w.Job); err != nil {
		return err
	}
	job, err := m.insert(ctx, m.tx, m.task(stage, w.Key), queue)
	if err != nil {
		return err
	}
	return m.tx.GiveWork(ctx, w.Key, job, queue)
}

// leave ends the waiting that the plan came with. Where nobody else waits the
// work is given up, and its job cancelled.
func (m *move) leave(ctx context.Context) error {
	if m.held == "" {
		return nil
	}
	key := m.held
	m.held = ""
	others, err := m.tx.RemoveWaiter(ctx, m.plan.ID, key)
	if err != nil || others > 0 {
		return err
	}
	w, err := m.tx.Work(ctx, key)
	if err != nil {
		return err
	}
	if err := m.tx.EndWork(ctx, key); err != nil {
		return err
	}
	return m.cancelJob(ctx, m.tx, w.Job)
}

// lastPriority is the queue's lowest: of 1 to 4 the jobs with 1 go first.
const lastPriority = 4

// priority lets later stages go first, so that of many plans the oldest are
// finished before new ones are begun.
func (q *Queue) priority(stage string) int {
	at := slices.IndexFunc(q.stages, func(s plan.Stage) bool { return s.Name == stage })
	return lastPriority - (lastPriority-1)*at/max(len(q.stages)-1, 1)
}

// insert puts a job for a task into a queue and returns its ID.
func (q *Queue) insert(ctx context.Context, tx db.Tx, t Task, queue db.Queue) (int64, error) {
	put, err := q.river.InsertTx(ctx, tx.Raw, q.kinds[t.Stage].args(t),
		&river.InsertOpts{Queue: string(queue), MaxAttempts: maxAttempts, Priority: q.priority(t.Stage)})
	if err != nil {
		return 0, fmt.Errorf("jobs: insert a job for %s: %w", t.Stage, err)
	}
	return put.Job.ID, nil
}

// cancelJob cancels a job, running or not. One that is gone needs nothing.
func (q *Queue) cancelJob(ctx context.Context, tx db.Tx, job int64) error {
	_, err := q.river.JobCancelTx(ctx, tx.Raw, job)
	if err != nil && !errors.Is(err, river.ErrNotFound) {
		return fmt.Errorf("jobs: cancel job %d: %w", job, err)
	}
	return nil
}
