package jobs

import (
	"context"
	"errors"
	"time"

	"knifedesk/db"
)

// beatsALease is how many beats a worker writes in the time of a lease.
const beatsALease = 5

// beat keeps writing this worker's beat.
func (q *Queue) beat(ctx context.Context) {
	every := q.cfg.Lease / beatsALease
	for ctx.Err() == nil {
		err := q.store.Beats(ctx, q.id, every, func() {
			now := time.Now()
			q.healthy.CompareAndSwap(nil, &now)
		})
		q.healthy.Store(nil)
		if ctx.Err() == nil {
			q.log.Warn("beat missed", "err", err)
			pause(ctx, every)
		}
	}
}

// sweep gives jobs of dead workers back. It holds off until this worker's own
// beats have come through for a whole lease: after an outage of the database
// every worker looks dead, and has to be given the time to be heard again.
func (q *Queue) sweep(ctx context.Context) {
	for pause(ctx, q.cfg.Lease/beatsALease) {
		since := q.healthy.Load()
		if since == nil || time.Since(*since) < q.cfg.Lease {
			continue
		}
		if err := q.sweepOnce(ctx); err != nil && ctx.Err() == nil {
			q.log.Warn("sweep failed", "err", err)
		}
	}
}

func (q *Queue) sweepOnce(ctx context.Context) error {
	var orphans []string
	err := q.store.InTx(ctx, func(tx db.Tx) error {
		orphans = nil
		if mine, err := tx.Sweeping(ctx); err != nil || !mine {
			return err
		}
		returned, err := tx.ReturnJobs(ctx, q.cfg.Lease)
		if err != nil {
			return err
		}
		for _, job := range returned {
			q.log.Warn("job of a dead worker returned", "job", job.ID, "kind", job.Kind, "attempt", job.Attempt, "worker", job.Worker)
		}
		q.metrics.returned.Add(float64(len(returned)))
		orphans, err = tx.OrphanedWork(ctx)
		return err
	})
	for _, key := range orphans {
		err = errors.Join(err, q.adopt(ctx, key))
	}
	return err
}

// adopt starts work anew whose job has ended without it.
func (q *Queue) adopt(ctx context.Context, key string) error {
	return q.store.InTx(ctx, func(tx db.Tx) error {
		if err := tx.LockKey(ctx, key); err != nil {
			return err
		}
		if still, err := tx.Orphaned(ctx, key); err != nil || !still {
			return err
		}
		q.log.Warn("work without a job started anew", "key", key)
		return q.rekey(ctx, tx, key)
	})
}

// pause waits and says whether ctx still stands.
func pause(ctx context.Context, d time.Duration) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(d):
		return true
	}
}
