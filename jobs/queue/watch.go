package queue

import (
	"context"
	"sync"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// hub passes changes of plans on to those who watch them.
type hub struct {
	mu      sync.Mutex
	watches map[uuid.UUID]map[chan struct{}]bool // true: of every change, false: of the end
}

// watch returns a channel that holds a token after the plan has changed or, unless
// every change is wanted, has settled.
func (h *hub) watch(id uuid.UUID, every bool) (<-chan struct{}, func()) {
	ch := make(chan struct{}, 1)
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.watches == nil {
		h.watches = map[uuid.UUID]map[chan struct{}]bool{}
	}
	if h.watches[id] == nil {
		h.watches[id] = map[chan struct{}]bool{}
	}
	h.watches[id][ch] = every
	return ch, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		delete(h.watches[id], ch)
		if len(h.watches[id]) == 0 {
			delete(h.watches, id)
		}
	}
}

func (h *hub) changed(id uuid.UUID, status string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for ch, every := range h.watches[id] {
		if every || plan.Status(status).Settled() {
			wake(ch)
		}
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
		err := q.store.Listen(ctx, db.Changes{
			Ready: q.hub.all, Plan: q.hub.changed,
			Trimmed: func(job int64) { q.running.Go(func() { crew{q}.trimmed(ctx, job) }) },
		})
		if ctx.Err() == nil {
			q.log.Warn("lost touch with the database", "err", err)
			pause(ctx, time.Second)
		}
	}
}

// Watch returns a channel on which a token comes after the plan has changed:
// its status, or how far its stages are. Several changes may come as one
// token. The function ends the watch.
func (q *Queue) Watch(id uuid.UUID) (<-chan struct{}, func()) { return q.hub.watch(id, true) }

// lookAnyway is how often Wait looks without being told.
const lookAnyway = 2 * time.Second

// Standing is how a plan stands.
type Standing struct {
	Status  plan.Status
	Failure string // a code where it failed
}

// Wait returns how a plan of client stands as soon as it is settled. Where ctx
// ends first it returns how it stood last, with the error of ctx.
func (q *Queue) Wait(ctx context.Context, client string, id uuid.UUID) (Standing, error) {
	changed, stop := q.hub.watch(id, false)
	defer stop()
	var seen Standing
	for {
		now, err := q.store.PlanStanding(ctx, client, id)
		if err != nil && ctx.Err() == nil {
			return seen, err
		}
		if err == nil {
			seen = Standing{plan.Status(now.Status), now.Failure}
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
