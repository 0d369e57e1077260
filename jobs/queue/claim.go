package queue

import (
	"context"
	"log/slog"

	"knifedesk/db"
	"knifedesk/jobs"
)

// claim makes the attempt the owner of its span. It returns the work of the span
// in order; none where there is nothing left to do. Where Postgres forgets the
// claim in a crash, the results are turned away and the job runs again.
func (q crew) claim(ctx context.Context, a attempt, log *slog.Logger) ([]db.Work, error) {
	var span []db.Work
	var failed []*move
	err := q.store.InLooseTx(ctx, func(tx db.Tx) (err error) {
		failed = nil
		var waited bool
		if span, waited, err = tx.StartWork(ctx, a.job, a.number); err != nil || len(span) == 0 {
			return err // given up, or another job's or a later attempt's by now
		}
		first := &span[0]
		if !q.knows(span) {
			gone := span
			span = nil
			if err := q.rekey(ctx, tx, gone); err != nil {
				return err
			}
			return q.refill(ctx, tx)
		}
		if first.Losses >= q.cfg.Losses {
			failed, err = q.fail(ctx, tx, keysOf(span), first.Key, FailureWorker)
			span = nil
			return err
		}
		if !waited { // the plans were erased
			gone := keysOf(span)
			span = nil
			return tx.EndWork(ctx, gone...)
		}
		return nil
	})
	if err == nil {
		q.noteFailed(failed, log, FailureWorker)
	}
	return span, err
}

func keysOf(work []db.Work) []string {
	keys := make([]string, len(work))
	for i, w := range work {
		keys[i] = w.Key
	}
	return keys
}

// knows says whether all of a span is work by this program's own list.
func (q *Queue) knows(span []db.Work) bool {
	for _, w := range span {
		if at := q.place(w.Stage); at < 0 || q.all[at].Revision != w.Revision {
			return false
		}
	}
	return true
}

// rowOf returns the row of the list that does some work, of which claim has made
// sure that it is known.
func (q *Queue) rowOf(w db.Work) *jobs.Row { return q.all[q.place(w.Stage)] }

// rekey ends the work of a span without results, and has the plans that waited
// go through the list anew: this program's, which may have another revision than
// the one that made the keys.
func (q *Queue) rekey(ctx context.Context, tx db.Tx, span []db.Work) error {
	keys := keysOf(span)
	waiting, groups, err := tx.LockWaiting(ctx, keys, keys)
	if err != nil {
		return err
	}
	if err := tx.EndWork(ctx, keys...); err != nil {
		return err
	}
	if err := q.lookLater(ctx, tx, setsOf(groups)...); err != nil {
		return err
	}
	for _, p := range waiting {
		if err := (&move{Queue: q, tx: tx, plan: p}).restart(ctx); err != nil {
			return err
		}
	}
	return nil
}
