package queue

import (
	"context"

	"knifedesk/db"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// Revise changes any part of a plan's request as an answer changes its replies,
// so that tests can choose which stages read what changed.
func (q *Queue) Revise(ctx context.Context, client string, id uuid.UUID, alter func(*plan.Request)) (db.Plan, error) {
	return q.change(ctx, client, id, func(_ db.Tx, p *db.Plan) error {
		alter(&p.Request)
		return nil
	})
}
