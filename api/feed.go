package api

import (
	"context"
	"log/slog"
	"sync"

	"github.com/google/uuid"

	"knifedesk/db"
	"knifedesk/jobs/queue"
)

// feeds read a plan once a change for all who follow it by streams.
type feeds struct {
	jobs Jobs
	log  *slog.Logger

	mu   sync.Mutex
	open map[uuid.UUID]*feed
}

// feed is what the streams of one plan share.
type feed struct {
	readers int // of feeds
	stop    context.CancelFunc
	again   chan struct{} // holds a token when the plan is to be read though nothing told of a change

	mu    sync.Mutex
	begun int // readings of the plan
	last  reading
	next  chan struct{} // closed when last is another
}

// reading is a plan as it was read.
type reading struct {
	number int      // of the readings of its feed, from 1 on
	events [2]event // that do not follow the acceptance, and that do
	err    error
}

// join returns the feed of a plan, which it opens for the first reader. What it
// returns beside is called once, at the end; the last reader to go closes the feed.
func (f *feeds) join(id uuid.UUID) (*feed, func()) {
	f.mu.Lock()
	defer f.mu.Unlock()
	one := f.open[id]
	if one == nil {
		ctx, stop := context.WithCancel(context.Background())
		one = &feed{stop: stop, again: make(chan struct{}, 1), next: make(chan struct{})}
		f.open[id] = one
		changed, unwatch := f.jobs.Watch(id) // before the reader looks for itself
		go func() {
			defer unwatch()
			f.follow(ctx, one, id, changed)
		}()
	}
	one.readers++
	return one, func() {
		f.mu.Lock()
		defer f.mu.Unlock()
		if one.readers--; one.readers == 0 {
			one.stop()
			delete(f.open, id)
		}
	}
}

// follow reads the plan after each change. Readers have shown that they may see it.
func (f *feeds) follow(ctx context.Context, one *feed, id uuid.UUID, changed <-chan struct{}) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-changed:
		case <-one.again:
		}
		r := reading{number: one.begin()}
		v, err := f.jobs.View(ctx, db.AnyClient, id)
		if err == nil {
			r.events, err = bothEvents(v)
		}
		if r.err = err; err != nil && ctx.Err() == nil {
			f.log.WarnContext(ctx, "event streams ended", "plan", id, "error", err)
		}
		one.publish(r)
	}
}

func bothEvents(v *queue.PlanView) (both [2]event, err error) {
	if both[0], err = eventOf(v, false); err != nil {
		return both, err
	}
	both[1], err = eventOf(v, true)
	return both, err
}

// begin counts a reading, and returns its number.
func (o *feed) begin() int {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.begun++
	return o.begun
}

func (o *feed) publish(r reading) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.last = r
	close(o.next)
	o.next = make(chan struct{})
}

// latest returns the last reading, of the number 0 before the first, and a channel
// that is closed by the next.
func (o *feed) latest() (reading, <-chan struct{}) {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.last, o.next
}

// readings returns how many readings have begun.
func (o *feed) readings() int {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.begun
}

// event returns what a stream tells of a reading.
func (r *reading) event(follow bool) event {
	if follow {
		return r.events[1]
	}
	return r.events[0]
}

// reread has the plan read once more.
func (o *feed) reread() {
	select {
	case o.again <- struct{}{}:
	default: // it will be
	}
}
