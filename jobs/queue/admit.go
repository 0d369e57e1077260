package queue

import (
	"context"
	"time"

	"knifedesk/db"

	"github.com/google/uuid"
)

// The work is the backlog, and the library's queue holds what its workers can take
// at once and a little more: it knows priority and time and no shares. A span waits
// in the table of the work, with a number below 0 for its job, until a transaction
// that changes something there admits it as its last act: refill. This holds:
//
//   - Never are more jobs of a queue available or running than its live workers run
//     at a time, and spare more, nor more heavy ones than they have desks. All admit
//     under one lock, which is held until what they counted is committed.
//   - Work for which somebody waits goes before other work. Among equals the client
//     goes first who had the fewest seconds lately, with the costs of what it has
//     running, so that clients who always want something get equal shares. Within a
//     grain of that, and of one client, the oldest goes first; what costs much counts
//     as younger by its cost.
//   - Nobody starves. What nobody waits for counts as waited for after patience. What
//     a client had fades, so that one who gets nothing comes down to those who had
//     nothing yet; there age decides, and no cost outweighs it for ever.
//   - Heavy work leaves a processor free for small plans, in each process and
//     in the queue, and all of them for some of the time (manners.go).
//   - Admission is one transaction with what it follows from: a crash leaves a span
//     waiting, or with a job. A slot that comes free in another way, as when a worker
//     dies, is filled by the next look at it, five times a lease.
//   - Whoever holds the right to admit waits for nobody: a span that another
//     transaction is at is passed over, and that one admits itself once it is done.
const (
	// spare is how many jobs of a queue wait in it for the next worker.
	spare = 2
	// fade is the time in which what a client had counts for a third (1/e).
	fade = 30 * time.Second
	// grain is what makes no difference between clients.
	grain = 100 * time.Millisecond
	// patience is how long work that nobody waits for goes behind.
	patience = time.Minute
	// seeEvery is how often it is noted for which plans somebody waits.
	seeEvery = 5 * time.Second
)

// admitting is what a queue does to admit work.
type admitting struct{ *Queue }

func (q admitting) fairness() db.Fairness {
	return db.Fairness{
		Lanes: [2]string{laneOf(db.Interactive), laneOf(db.Batch)}, Spare: spare,
		Fade: fade, Grain: grain, Patience: patience, Lease: q.cfg.Lease,
	}
}

// Tasks lists what runs and waits, of all clients, in the order in which it is going
// to run as things are now: at most limit.
func (q admitting) Tasks(ctx context.Context, limit int) ([]db.Task, error) {
	return q.store.Tasks(ctx, q.fairness(), limit)
}

// worker is how this process is known to others.
func (q admitting) worker() db.Worker {
	return db.Worker{ID: q.id, Interactive: q.cfg.Interactive, Batch: q.cfg.Batch, Heavy: q.cfg.Heavy}
}

// refillAtEnd charges a client for seconds of computing and refills, where anything
// waits. It has to be the last that a transaction does.
func (q admitting) refillAtEnd(ctx context.Context, tx db.Tx, client string, seconds float64) error {
	some, err := tx.Backlog(ctx, q.fairness(), client, seconds)
	if err != nil || !some {
		return err
	}
	return q.refill(ctx, tx)
}

// refill admits what slots are free for. It has to be the last that a transaction does.
func (q admitting) refill(ctx context.Context, tx db.Tx) error {
	var passed []int64
	for {
		next, err := tx.NextSpan(ctx, q.fairness(), passed)
		if err != nil || len(next) == 0 {
			return err
		}
		free, err := tx.TakeSpan(ctx, next[0].Job)
		if err != nil {
			return err
		}
		if !free {
			passed = append(passed, next[0].Job)
			continue
		}
		job, err := q.insert(ctx, tx, next[0])
		if err != nil {
			return err
		}
		if err := tx.Admit(ctx, next[0].Job, job); err != nil || !next[0].More {
			return err
		}
	}
}

// refillAfter is refill where a move has changed what waits to be admitted.
func (q admitting) refillAfter(ctx context.Context, tx db.Tx, m *move) error {
	if !m.stirred {
		return nil
	}
	return q.refill(ctx, tx)
}

// charge has a client pay for what the span has used.
func (s *span) charge(ctx context.Context, tx db.Tx) error {
	if s.spent == 0 {
		return nil
	}
	return tx.Charge(ctx, s.queue.fairness(), s.client, s.spent.Seconds())
}

// fill admits whenever a slot may have come free without a transaction of ours, and
// has what waits follow who waits for it.
func (q keeper) fill(ctx context.Context) {
	for ctx.Err() == nil {
		err := q.store.InLooseTx(ctx, func(tx db.Tx) error {
			if err := tx.WeighSpans(ctx, q.fairness()); err != nil {
				return err
			}
			return q.refillAtEnd(ctx, tx, "", 0)
		})
		if err != nil && ctx.Err() == nil {
			q.log.Warn("nothing admitted", "err", err)
		}
		select {
		case <-ctx.Done():
		case <-q.due:
		case <-time.After(q.cfg.Lease / beatsPerLease):
		}
	}
}

// afterEnd is in what time the library notes that a job has ended in its own way.
const afterEnd = 100 * time.Millisecond

// fillSoon has fill look once the library has noted the end of a job.
func (q admitting) fillSoon() { time.AfterFunc(afterEnd, func() { wake(q.due) }) }

// seeWaiting notes again and again for which plans somebody waits at this process.
func (q admitting) seeWaiting(ctx context.Context) {
	for pause(ctx, seeEvery) {
		watched := q.hub.watched()
		if len(watched) == 0 {
			continue
		}
		if err := q.store.SeeWaiting(ctx, watched); err != nil && ctx.Err() == nil {
			q.log.Warn("it is not noted who waits", "err", err)
		}
	}
}

// watched are the plans that somebody watches.
func (h *hub) watched() []uuid.UUID {
	h.mu.Lock()
	defer h.mu.Unlock()
	ids := make([]uuid.UUID, 0, len(h.watches))
	for id := range h.watches {
		ids = append(ids, id)
	}
	return ids
}
