package api

import (
	"context"
	"sync"
	"time"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue"
)

const (
	// backlogKnown is how long plans are admitted by a count that was read once:
	// what other processes take in meanwhile is not seen.
	backlogKnown = time.Second
	// backlogFull is how long a client is refused by such a count.
	backlogFull = 50 * time.Millisecond
	// backlogWithin is how long counting may take.
	backlogWithin = 2 * time.Second
)

// backlog bounds the plans that are queued or worked on. It counts in the
// database from time to time and, between, what this process takes in: so it never
// admits more than the bound by itself, and with n processes at most what the
// others take in within backlogKnown.
type backlog struct {
	store *db.DB
	most  Bound

	mu       sync.Mutex
	read     time.Time
	moving   map[string]int // plans by client, as read, and those admitted since
	entering map[string]int // those being submitted: a count may lack them
}

func newBacklog(store *db.DB, most Bound) *backlog {
	return &backlog{store: store, most: most, entering: map[string]int{}}
}

// enter admits n more plans of a client, all or none. What it returns is called once,
// when they are in the database or were given up.
func (b *backlog) enter(ctx context.Context, client string, n int) (entered func(), err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if err := b.recount(ctx, backlogKnown); err != nil {
		return nil, err
	}
	if b.full(client, n) {
		if err := b.recount(ctx, backlogFull); err != nil {
			return nil, err
		}
	}
	if b.full(client, n) {
		return nil, crowded("too_many_plans", "plans in the queue", b.most, b.moving[client], 5*time.Second)
	}
	b.moving[client] += n
	b.entering[client] += n
	return func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		if b.entering[client] -= n; b.entering[client] == 0 {
			delete(b.entering, client)
		}
	}, nil
}

// full says whether n more plans of a client would be too many.
func (b *backlog) full(client string, n int) bool {
	all := 0
	for _, of := range b.moving {
		all += of
	}
	return b.most.refuses(b.moving[client]+n-1, all+n-1)
}

// recount reads the count anew where it is older than said. Plans that are being
// submitted may be in it already; they count twice rather than not at all.
func (b *backlog) recount(ctx context.Context, old time.Duration) error {
	if time.Since(b.read) < old {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, backlogWithin)
	defer cancel()
	began := time.Now()
	counted, err := b.store.Moving(ctx)
	if err != nil {
		return err
	}
	b.moving, b.read = map[string]int{}, began
	for _, of := range counted {
		b.moving[of.Client] = of.Plans
	}
	for client, n := range b.entering {
		b.moving[client] += n
	}
	return nil
}

// submit takes a plan in where its client and all together have room for it.
func (p plans) submit(c echo.Context, params queue.SubmitParams, further ...queue.SubmitParams) (queue.Plan, error) {
	ctx := c.Request().Context()
	entered, err := p.queued.enter(ctx, params.Client, 1+len(further))
	if err != nil {
		return queue.Plan{}, err
	}
	defer entered()
	return p.jobs.Submit(ctx, params, further...)
}
