package queue

import (
	"context"

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

// Unpack returns the body of a stored result.
var Unpack = unpack
