package queue

import (
	"context"
	"time"

	"knifedesk/jobs/queue/ledger"
)

// lapse frees stock that was held for a plan up to now, and tells of class sets whose
// deadline has passed, again and again. Every
// worker does, each acceptance in a transaction of its own that looks again: it
// lapses once, and the death of a worker delays nothing.
func (q keeper) lapse(ctx context.Context) {
	book := ledger.Open(q.store)
	for pause(ctx, q.cfg.LapseEvery) {
		lapsed, told, err := book.Lapse(ctx, time.Now())
		if err != nil && ctx.Err() == nil {
			q.log.Warn("lapsing failed", "err", err)
		}
		if lapsed+told > 0 {
			q.log.Info("reservations lapsed", "lapsed", lapsed, "told", told)
		}
		if err := q.shutOnce(ctx); err != nil && ctx.Err() == nil {
			q.log.Warn("a class set's deadline is not told", "err", err)
		}
	}
}
