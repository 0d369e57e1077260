package queue

import (
	"context"
	"sync"
	"time"

	"knifedesk/db"

	"github.com/google/uuid"
)

// hub passes changes of plans on to those who watch them.
type hub struct {
	mu      sync.Mutex
	watches map[uuid.UUID]map[chan struct{}]bool
}

// watch returns a channel that holds a token after the plan has changed.
func (h *hub) watch(id uuid.UUID) (<-chan struct{}, func()) {
	ch := make(chan struct{}, 1)
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.watches == nil {
		h.watches = map[uuid.UUID]map[chan struct{}]bool{}
	}
	if h.watches[id] == nil {
		h.watches[id] = map[chan struct{}]bool{}
	}
	h.watches[id][ch] = true
	return ch, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		delete(h.watches[id], ch)
		if len(h.watches[id]) == 0 {
			delete(h.watches, id)
		}
	}
}

func (h *hub) changed(id uuid.UUID) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for ch := range h.watches[id] {
		wake(ch)
	}
}

// all wakes everybody: changes may have been missed.
func (h *hub) all() {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, watchers := range h.watches {
		for ch := range watchers {
			wake(ch)
		}
	}
}

func wake(ch chan struct{}) {
	select {
	case ch <- struct{}{}:
	default: // it has a token already
	}
}

// listen feeds the hub from the database.
func (q *Queue) listen(ctx context.Context) {
	for ctx.Err() == nil {
		err := q.store.Listen(ctx, q.hub.all, q.hub.changed)
		if ctx.Err() == nil {
			q.log.Warn("lost touch with the database", "err", err)
			pause(ctx, time.Second)
		}
	}
}

// Watch returns a channel on which a token comes after the plan has changed:
// its status, or how far its stages are. Several changes may come as one
// token. The function ends the watch.
func (q *Queue) Watch(id uuid.UUID) (<-chan struct{}, func()) { return q.hub.watch(id) }

// lookAnyway is how often Wait looks without being told.
const lookAnyway = 2 * time.Second

// Wait returns a plan of client as soon as it is settled. Where ctx ends
// first it returns the plan as it was last seen, with the error of ctx.
func (q *Queue) Wait(ctx context.Context, client string, id uuid.UUID) (db.Plan, error) {
	changed, stop := q.Watch(id)
	defer stop()
	var seen db.Plan
	for {
		p, err := q.store.Plan(ctx, client, id)
		if err != nil && ctx.Err() == nil {
			return seen, err
		}
		if err == nil {
			seen = p
		}
		if seen.Status != "" && seen.Status.Settled() {
			return seen, nil
		}
		select {
		case <-ctx.Done():
			return seen, ctx.Err()
		case <-changed:
		case <-time.After(lookAnyway):
		}
	}
}
