package queue

import (
	"context"
	"sync/atomic"

	"knifedesk/geometry/budget"

	"golang.org/x/sync/semaphore"
)

// desks bound the heavy runs of a process: what is left of its processors is for the
// light ones. A heavy run that has no desk yet waits, and those that have share.
type desks struct {
	free *semaphore.Weighted
	all  int
	sits atomic.Int64
}

func newDesks(n int) *desks { return &desks{free: semaphore.NewWeighted(int64(n)), all: n} }

// sit waits for a desk where a span is heavy. It returns the context to compute in,
// which takes no more goroutines at a time than are its share of the desks, and how to
// leave.
func (d *desks) sit(ctx context.Context, heavy bool) (within context.Context, leave func(), err error) {
	if !heavy {
		return ctx, func() {}, nil
	}
	if err := d.free.Acquire(ctx, 1); err != nil {
		return ctx, nil, err
	}
	share := d.all / int(d.sits.Add(1))
	return budget.Share(ctx, share), func() {
		d.sits.Add(-1)
		d.free.Release(1)
	}, nil
}
