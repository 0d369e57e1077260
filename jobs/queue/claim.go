package queue

import (
	"context"
	"log/slog"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"

	"github.com/google/uuid"
)

// claim makes the attempt the owner of its span, which it draws out over the
// missing keys that follow. It returns the work of the span in order; none where
// there is nothing left to do.
func (q *Queue) claim(ctx context.Context, a attempt, log *slog.Logger) ([]db.Work, error) {
	var span []db.Work
	var failed []*move
	err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
		failed = nil
		if span, err = q.own(ctx, tx, a); err != nil || len(span) == 0 {
			return err // given up, or another job's or a later attempt's by now
		}
		first := &span[0]
		if row := q.rowOf(*first); first.Revision < row.Revision {
			span, err = nil, q.rekey(ctx, tx, span)
			return err
		}
		if first.Losses >= q.cfg.Losses {
			failed, err = q.fail(ctx, tx, span, first.Key, FailureWorker)
			span = nil
			return err
		}
		span, err = q.begun(ctx, tx, a, span)
		return err
	})
	if err == nil {
		q.noteFailed(failed, log, FailureWorker)
	}
	return span, err
}

// own takes the rows of the job, with their keys locked.
func (q *Queue) own(ctx context.Context, tx db.Tx, a attempt) ([]db.Work, error) {
	rows, err := tx.WorkOf(ctx, a.job)
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	if err := tx.LockKeys(ctx, keysOf(rows)...); err != nil {
		return nil, err
	}
	return tx.StartWork(ctx, a.job, a.number)
}

func keysOf(work []db.Work) []string {
	keys := make([]string, len(work))
	for i, w := range work {
		keys[i] = w.Key
	}
	return keys
}

// rowOf returns the row of the list that does some work. claim has made sure
// that there is one for the first of a span; the others follow by this program's
// own list.
func (q *Queue) rowOf(w db.Work) *jobs.Row { return q.rows[q.place(w.Stage)] }

// begun draws the span out and tells the plans that wait that it is being
// worked on.
func (q *Queue) begun(ctx context.Context, tx db.Tx, a attempt, span []db.Work) ([]db.Work, error) {
	waiting, err := tx.LockWaiting(ctx, keysOf(span)...)
	if err != nil {
		return nil, err
	}
	if len(waiting) == 0 { // the plans were erased
		return nil, tx.EndWork(ctx, keysOf(span)...)
	}
	// One that may have killed its worker goes alone, so that it is found out.
	if len(span) == 1 && span[0].Losses == 0 && waiting[0].List == q.list {
		if span, err = q.drawOut(ctx, tx, a, span[0], waiting); err != nil {
			return nil, err
		}
	}
	ids := make([]uuid.UUID, len(waiting))
	for i, p := range waiting {
		ids[i] = p.ID
	}
	if err := tx.StagesStarted(ctx, span[0].Key, ids); err != nil {
		return nil, err
	}
	return span, tx.SetWorking(ctx, ids)
}

// drawOut adds to a span of one key those that the first plan that waits lacks
// after it, as far as nobody else is at work on them, and has all plans wait for
// the last that is one of theirs.
func (q *Queue) drawOut(ctx context.Context, tx db.Tx, a attempt, first db.Work, waiting []db.Plan) ([]db.Work, error) {
	nodes, err := (&move{Queue: q, tx: tx, plan: waiting[0]}).graph()
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(nodes, func(n jobs.Node) bool { return string(n.Key) == first.Key })
	ahead := nodes[at+1:]
	keys := make([]string, len(ahead))
	for i, n := range ahead {
		keys[i] = string(n.Key)
	}
	there, err := tx.ResultKeys(ctx, keys...)
	if err != nil {
		return nil, err
	}
	now := time.Now()
	rest := []db.Work{}
	for i := range ahead {
		if slices.Contains(there, keys[i]) {
			continue
		}
		w := workOn(&ahead[i], first.Queue)
		w.Job, w.Attempt, w.Place, w.Started = a.job, a.number, first.Place+1+len(rest), &now
		rest = append(rest, w)
	}
	added, err := tx.AddWork(ctx, rest...)
	if err != nil {
		return nil, err
	}
	free := slices.IndexFunc(rest, func(w db.Work) bool { return !slices.Contains(added, w.Key) })
	if free >= 0 {
		if err := tx.EndWork(ctx, keysOf(rest[free:])[1:]...); err != nil {
			return nil, err
		}
		rest = rest[:free]
	}
	span := append([]db.Work{first}, rest...)
	return span, q.setGoals(ctx, tx, span, waiting)
}

// setGoals has each plan wait for the last key in a row, from the first of the
// span, that is one of its own.
func (q *Queue) setGoals(ctx context.Context, tx db.Tx, span []db.Work, waiting []db.Plan) error {
	for i, p := range waiting {
		goal := span[len(span)-1].Key
		if i > 0 {
			own, err := tx.Stages(ctx, p.ID)
			if err != nil {
				return err
			}
			goal = lastInRow(span, own)
		}
		if goal == span[0].Key {
			continue
		}
		if err := tx.LeaveKey(ctx, p.ID, span[0].Key); err != nil {
			return err
		}
		if err := tx.WaitFor(ctx, p.ID, goal); err != nil {
			return err
		}
	}
	return nil
}

func lastInRow(span []db.Work, own []db.PlanStage) string {
	last := span[0].Key
	for _, w := range span[1:] {
		if !slices.ContainsFunc(own, func(s db.PlanStage) bool { return s.Key == w.Key }) {
			break
		}
		last = w.Key
	}
	return last
}

// rekey ends the work of a span without results, and has the plans that waited
// go through the list anew: this program's, which may have another revision than
// the one that made the keys.
func (q *Queue) rekey(ctx context.Context, tx db.Tx, span []db.Work) error {
	keys := keysOf(span)
	waiting, err := tx.LockWaiting(ctx, keys...)
	if err != nil {
		return err
	}
	if err := tx.EndWork(ctx, keys...); err != nil {
		return err
	}
	for _, p := range waiting {
		if err := (&move{Queue: q, tx: tx, plan: p}).restart(ctx); err != nil {
			return err
		}
	}
	return nil
}
