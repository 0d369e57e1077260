package queue

import (
	"context"
	"math"
	"sync/atomic"
	"time"

	"knifedesk/db"
)

const (
	// onlook is how often those who look on hear at most how far a run has come, in whole
	// steps of leastMore.
	onlook    = time.Second
	leastMore = 1. / 128 // exact
)

// progress is how far a run has come, from 0 to 1.
type progress struct {
	bits atomic.Uint64 // of the share; those of floats from 0 on are in the order of these
	told float64       // to those who look on
}

// tell takes in what a run says. A run that repeats part of its work does not go back.
func (p *progress) tell(share float64) {
	to := math.Float64bits(min(max(share, 0), 1))
	for {
		at := p.bits.Load()
		if to <= at || p.bits.CompareAndSwap(at, to) {
			return
		}
	}
}

// more returns the share that is to be told, and whether there is any.
func (p *progress) more() (float64, bool) {
	share := math.Floor(math.Float64frombits(p.bits.Load())/leastMore) * leastMore
	if share <= p.told {
		return 0, false
	}
	p.told = share
	return share, true
}

// onlookers tells those who look on how far a run has come. That it is not
// told is no fault of the run.
func (s *span) onlookers(ctx context.Context, p *progress) {
	share, more := p.more()
	if !more || ctx.Err() != nil {
		return
	}
	err := s.queue.store.InLooseTx(ctx, func(tx db.Tx) error { return tx.SetShare(ctx, s.job, s.number, share) })
	if err != nil && ctx.Err() == nil {
		s.log.Warn("could not tell how far it is", "err", err)
	}
}
