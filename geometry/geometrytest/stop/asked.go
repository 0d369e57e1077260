package stop

import (
	"context"
	"sync"
	"time"

	"knifedesk/geometry/geometrytest/cost"
)

// asked is a context that keeps the longest time between two questions whether
// it has ended.
type asked struct {
	context.Context
	mu      sync.Mutex
	at      time.Time     // of the last question
	spent   time.Duration // of the processor until then
	longest time.Duration
}

func newAsked(ctx context.Context) *asked {
	return &asked{Context: ctx, at: time.Now(), spent: cost.Spent()}
}

// Err is the question.
func (a *asked) Err() error {
	a.mu.Lock()
	defer a.mu.Unlock()
	now, spent := time.Now(), cost.Spent()
	a.longest = max(a.longest, min(now.Sub(a.at), spent-a.spent))
	a.at, a.spent = now, spent
	return a.Context.Err()
}
