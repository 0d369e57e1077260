package queue

import (
	"context"
	"time"

	"knifedesk/db"
)

const (
	// retainEvery is how often it is looked for what has been kept long enough.
	retainEvery = time.Hour
	// claimsKept is how long a repeated request is answered as it was first.
	claimsKept = 7 * 24 * time.Hour
	// deliveriesKept is how long it can be seen what became of a delivery.
	deliveriesKept = 30 * 24 * time.Hour
	// resultsKept is how long a result may wait for a plan to reach it.
	resultsKept = 24 * time.Hour
	// mostUnreached bounds how many results are looked at in one go.
	mostUnreached = 500
)

// retain erases what has been kept for the time that the workshop set, and what
// nobody can reach any more, again and again. Every worker does; of two at once
// each erases what the other has left.
func (q keeper) retain(ctx context.Context) {
	for {
		if err := q.retainOnce(ctx, time.Now()); err != nil && ctx.Err() == nil {
			q.log.Warn("what is too old is not erased", "err", err)
		}
		if !pause(ctx, retainEvery) {
			return
		}
	}
}

func (q keeper) retainOnce(ctx context.Context, now time.Time) error {
	if q.cfg.Keep > 0 {
		gone, err := q.EraseAll(ctx, db.Erasable{Client: db.AnyClient, Before: now.Add(-q.cfg.Keep)}, false)
		if err != nil {
			return err
		}
		if gone.Plans+gone.Drawings > 0 {
			q.log.Info("erased by age", "plans", gone.Plans, "drawings", gone.Drawings, "results", gone.Results)
		}
	}
	if _, err := q.store.ForgetRequests(ctx, now.Add(-claimsKept)); err != nil {
		return err
	}
	if _, err := q.store.ForgetDeliveries(ctx, now.Add(-deliveriesKept)); err != nil {
		return err
	}
	return q.dropUnreached(ctx)
}

// dropUnreached erases the results that neither a plan nor a drawing reaches,
// such as those of older programs and of work that came in late.
func (q keeper) dropUnreached(ctx context.Context) error {
	for {
		keys, err := q.store.Unreached(ctx, resultsKept, mostUnreached)
		if err != nil {
			return err
		}
		read, err := q.readings(ctx)
		if err != nil {
			return err
		}
		var unreached []string
		for _, k := range keys {
			if !read[k] {
				unreached = append(unreached, k)
			}
		}
		var gone int64
		err = q.store.InTx(ctx, func(tx db.Tx) (err error) {
			gone, err = tx.EraseResults(ctx, unreached...)
			return err
		})
		if err != nil || gone == 0 || len(keys) < mostUnreached {
			return err
		}
	}
}

// readings are the keys of what was read in the drawings there are.
func (q keeper) readings(ctx context.Context) (map[string]bool, error) {
	hashes, err := q.store.FileHashes(ctx)
	if err != nil {
		return nil, err
	}
	keys := make(map[string]bool, len(hashes))
	for _, h := range hashes {
		key, err := q.readingOf(h)
		if err != nil {
			return nil, err
		}
		keys[key] = true
	}
	return keys, nil
}
