package queue

import (
	"context"
	"errors"
	"sync"
	"time"

	"knifedesk/db"

	"github.com/google/uuid"
)

// beatsPerLease is how many beats a worker writes in the time of a lease.
const beatsPerLease = 5

// pulse is how regularly this worker's own beats come through.
type pulse struct {
	mu          sync.Mutex
	since, last time.Time // of the unbroken row of beats
}

// beaten notes a beat. After a gap the row begins anew.
func (p *pulse) beaten(now time.Time, gap time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if now.Sub(p.last) > gap {
		p.since = now
	}
	p.last = now
}

// steady says whether beats have come through for a lease, up to now.
func (p *pulse) steady(now time.Time, lease, gap time.Duration) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return now.Sub(p.last) <= gap && now.Sub(p.since) >= lease
}

// keeper writes the beat of a queue with workers, and looks after what others
// have left.
type keeper struct{ *Queue }

// gap is the longest time between two beats of a healthy worker.
func (q keeper) gap() time.Duration { return q.cfg.Lease / 2 }

// beat keeps writing this worker's beat.
func (q keeper) beat(ctx context.Context) {
	every := q.cfg.Lease / beatsPerLease
	for ctx.Err() == nil {
		err := q.store.Beats(ctx, q.worker(), every, func() { q.pulse.beaten(time.Now(), q.gap()) })
		if ctx.Err() == nil {
			q.log.Warn("beat missed", "err", err)
			pause(ctx, every)
		}
	}
}

// sweep gives jobs back that nobody runs. It holds off until this worker's own
// beats have come through for a whole lease: after an outage of the database
// every worker looks dead, and has to be given the time to be heard again.
func (q keeper) sweep(ctx context.Context) {
	for pause(ctx, q.cfg.Lease/beatsPerLease) {
		if !q.pulse.steady(time.Now(), q.cfg.Lease, q.gap()) {
			continue
		}
		if err := q.sweepOnce(ctx); err != nil && ctx.Err() == nil {
			q.log.Warn("sweep failed", "err", err)
		}
	}
}

func (q keeper) sweepOnce(ctx context.Context) error {
	var returned []db.ReturnedJob
	var orphans []int64
	var idle []uuid.UUID
	began := time.Now()
	err := q.store.InTx(ctx, func(tx db.Tx) error {
		returned, orphans, idle = nil, nil, nil
		mine, err := tx.Sweeping(ctx)
		if err != nil || !mine {
			return err
		}
		if returned, err = tx.ReturnJobs(ctx, q.cfg.Lease, q.id, q.held.since(began.Add(-q.cfg.Lease))); err != nil {
			return err
		}
		if time.Since(began) > q.gap() {
			return errSlow
		}
		if orphans, err = tx.OrphanedJobs(ctx); err != nil {
			return err
		}
		if idle, err = tx.Idle(ctx, q.list, mostIdle); err != nil {
			return err
		}
		sets, err := tx.IdleGroups(ctx, mostIdle)
		if err != nil {
			return err
		}
		if err := q.lookLater(ctx, tx, sets...); err != nil {
			return err
		}
		return tx.ForgetWorkers(ctx, q.cfg.Lease)
	})
	if err != nil {
		return err
	}
	q.metrics.returned.Add(float64(len(returned)))
	for _, job := range returned {
		q.log.Warn("job that nobody runs returned", "job", job.ID, "kind", job.Kind, "attempt", job.Attempt, "worker", job.Worker)
	}
	for _, job := range orphans {
		err = errors.Join(err, q.adopt(ctx, job))
	}
	for _, id := range idle {
		err = errors.Join(err, q.drive(ctx, id))
	}
	return err
}

// mostIdle bounds how many idle plans one sweep drives on.
const mostIdle = 100

// drive moves a plan on that waits for nothing: one that another program left,
// or that was migrated.
func (q keeper) drive(ctx context.Context, id uuid.UUID) error {
	var m *move
	err := q.store.InTx(ctx, func(tx db.Tx) error {
		p, err := tx.LockPlan(ctx, id)
		if err != nil {
			return err
		}
		m = &move{Queue: q.Queue, tx: tx, plan: p}
		if still, err := tx.WaitsForNothing(ctx, id); err != nil || !still {
			return err
		}
		q.log.Warn("idle plan driven on", "plan", id)
		if err := m.restart(ctx); err != nil {
			return err
		}
		return q.refillAfter(ctx, tx, m)
	})
	if err == nil {
		q.note(ctx, m)
	}
	return err
}

// errSlow undoes a sweep that was held up, for the others may have been too.
var errSlow = errors.New("the database was held up")

// adopt starts work anew whose job has ended without it.
func (q keeper) adopt(ctx context.Context, job int64) error {
	return q.store.InTx(ctx, func(tx db.Tx) error {
		span, err := tx.LockWork(ctx, job)
		if err != nil || len(span) == 0 {
			return err
		}
		if still, err := tx.Orphaned(ctx, job); err != nil || !still {
			return err
		}
		q.log.Warn("work without a job started anew", "job", job)
		if err := q.rekey(ctx, tx, span); err != nil {
			return err
		}
		return q.refill(ctx, tx)
	})
}

// standBack waits while another attempt runs the job of an attempt that has lost
// its work. The queue ends a job by its number alone, whichever attempt reports.
func (q crew) standBack(ctx context.Context, a attempt) error {
	for {
		overtaken, err := q.store.Overtaken(ctx, a.job, a.number)
		if err != nil || !overtaken {
			return err
		}
		if !pause(ctx, q.cfg.Lease/beatsPerLease) {
			return ctx.Err()
		}
	}
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
