package queue

import (
	"context"
	"errors"
	"time"

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

// ErrFull: there was no room for what a request needs, for as long as one waits.
var ErrFull = errors.New("queue: no room in memory")

// patient is how long a request waits for room.
const patient = 20 * time.Second

// hold is the room that a request has, until it has sent what it made.
type hold struct{ leave func() }

type holdKey struct{}

// Holding returns a context within which Room, Results and Read keep the room that
// they take until leave is called: what they read stays in memory as long. It is for
// one goroutine at a time. Room comes before a turn of any kind, so that nobody who
// has a turn waits for room.
func Holding(ctx context.Context) (within context.Context, leave func()) {
	h := &hold{leave: func() {}}
	return context.WithValue(ctx, holdKey{}, h), func() { h.leave() }
}

// holding takes room for a request where it has none yet and somebody will give it
// back; ErrFull where it would wait for too long.
func (r room) holding(ctx context.Context, bytes int64) error {
	h, _ := ctx.Value(holdKey{}).(*hold)
	if h == nil {
		return nil
	}
	within, cancel := context.WithTimeout(ctx, patient)
	defer cancel()
	h.leave() // a request holds one room, of what it asked for last
	h.leave = func() {}
	leave, err := r.take(within, bytes)
	if err != nil {
		if ctx.Err() == nil {
			err = ErrFull
		}
		return err
	}
	h.leave = leave
	return nil
}

// lending is what a queue does for the memory of requests.
type lending struct{ *Queue }

// Room takes room for reading the file with this SHA-256, where the context is that of
// a request that gives it back (Holding).
func (q lending) Room(ctx context.Context, file []byte) error {
	bytes, _, err := q.store.StoredBytes(ctx, file)
	if err != nil {
		return err
	}
	return q.room.holding(ctx, need(bytes, 0))
}
