package queue

import (
	"context"

	"knifedesk/jobs/queue/ledger"

	"github.com/google/uuid"
)

// Erase removes a plan of client, however it stands. What is worked on for it
// alone stops, what is held for it is free, and the ledger keeps the amounts
// without a name. It fails with a *ledger.Refusal while its stock is handed out.
func (q *Queue) Erase(ctx context.Context, client string, id uuid.UUID) error {
	_, err := q.locked(ctx, client, id, func(m *move) error {
		if err := m.leave(ctx); err != nil {
			return err
		}
		if err := ledger.Forget(ctx, m.tx, id); err != nil {
			return err
		}
		return m.tx.ErasePlan(ctx, id)
	})
	return err
}
