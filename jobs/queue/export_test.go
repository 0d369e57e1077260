package queue

import (
	"context"
	"time"

	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// Revise changes any part of a plan's request as an answer changes its replies,
// so that tests can choose which jobs read what changed.
func (q *Queue) Revise(ctx context.Context, client string, id uuid.UUID, alter func(*plan.Request)) (Plan, error) {
	return q.locked(ctx, client, id, func(m *move) error {
		return changed(ctx, m, func() error { alter(m.request); return nil })
	})
}

// Held knows which jobs a process has, as the queue does.
type Held struct{ held }

// NewHeld returns one that has none.
func NewHeld() *Held {
	return &Held{held{runs: map[int64]int{}, ended: map[int64]time.Time{}}}
}

// Since lists the jobs that run, and those that have ended since a time.
func (h *Held) Since(when time.Time) []int64 { return h.since(when) }

// Unpack returns the body of a stored result.
var Unpack = unpack
