package queue

import (
	"context"

	"knifedesk/db"

	"golang.org/x/sync/semaphore"
)

// room bounds the memory of all runs of a process together, whether a job of the
// queue or a request asked for them. A run waits until there is room for it;
// none is refused, so what is larger than the whole room runs alone.
type room struct {
	free *semaphore.Weighted
	all  int64
}

func newRoom(bytes int64) room { return room{semaphore.NewWeighted(bytes), bytes} }

// light is what a run may need without asking. Plans of everyday drawings stay
// below it and wait for nobody; at most as many run at a time as there are
// workers.
const light = 32 << 20

// What runs were measured to need at most for a byte of a file, with all that is
// made of it on the way to the passes, and of the results that they start from
// as stored, packed.
const (
	ofFile   = 16
	ofResult = 32
)

// need estimates the memory of runs that start from a file and from stored
// results of these sizes.
func need(file, results int64) int64 { return ofFile*file + ofResult*results }

// enter waits for room for what a span holds, by what its first run starts from.
// It loads nothing before.
func (q crew) enter(ctx context.Context, first db.Work) (leave func(), err error) {
	file, results, err := q.store.StoredBytes(ctx, first.File, first.Needs...)
	if err != nil {
		return nil, err
	}
	return q.room.take(ctx, need(file, results))
}

// take waits for room and returns how to give it back. The error is that of ctx.
func (r room) take(ctx context.Context, bytes int64) (func(), error) {
	if bytes <= light {
		return func() {}, nil
	}
	bytes = min(bytes, r.all)
	if err := r.free.Acquire(ctx, bytes); err != nil {
		return nil, err
	}
	return func() { r.free.Release(bytes) }, nil
}
