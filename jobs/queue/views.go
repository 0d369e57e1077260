package queue

import (
	"context"
	"encoding/json"
	"fmt"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/view"

	"github.com/google/uuid"
)

// PlanView is what callers read of a plan.
type PlanView struct {
	db.PlanView
	Plan       view.Plan
	Acceptance *ledger.Acceptance // of a single plan that is ready; nil: it was never accepted
}

// View returns what callers read of a plan of client. It looks at no result,
// unless an older program left the plan without a view.
func (q *Queue) View(ctx context.Context, client string, id uuid.UUID) (*PlanView, error) {
	v, err := q.store.PlanView(ctx, client, id)
	if err != nil {
		return nil, err
	}
	out, err := q.viewed(ctx, client, v)
	if err == nil && v.Status == string(plan.Ready) {
		out.Acceptance, err = ledger.Of(ctx, q.store.Queries, id)
	}
	return out, err
}

// Views lists what callers read of plans, the newest first.
func (q *Queue) Views(ctx context.Context, f db.PlanFilter) ([]*PlanView, error) {
	rows, err := q.store.PlanViews(ctx, f)
	if err != nil {
		return nil, err
	}
	all := make([]*PlanView, len(rows))
	for i, v := range rows {
		if all[i], err = q.viewed(ctx, f.Client, v); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// viewed reads the text of a view, which it has written first where it lacks.
func (q *Queue) viewed(ctx context.Context, client string, v db.PlanView) (*PlanView, error) {
	if v.View == nil {
		if err := q.gather(ctx, v.ID); err != nil {
			return nil, err
		}
		var err error
		if v, err = q.store.PlanView(ctx, client, v.ID); err != nil {
			return nil, err
		}
	}
	out := &PlanView{PlanView: v}
	if err := json.Unmarshal(v.View, &out.Plan); err != nil {
		return nil, fmt.Errorf("queue: the view of plan %s: %w", v.ID, err)
	}
	out.View = nil
	if v.Status == string(plan.Working) {
		out.Plan.Begin(v.Share)
	}
	return out, nil
}

// gather writes the view of a plan that an older program left without one.
func (q *Queue) gather(ctx context.Context, id uuid.UUID) error {
	return q.store.InTx(ctx, func(tx db.Tx) error {
		p, err := tx.LockPlan(ctx, id)
		if err != nil {
			return err
		}
		m := &move{Queue: q, tx: tx, plan: p}
		s, err := m.stand(ctx)
		if err != nil {
			return err
		}
		s.status, s.failure = plan.Status(p.Status), p.Failure
		v, err := m.viewOf(s, nil)
		if err != nil {
			return err
		}
		text, err := json.Marshal(v)
		if err != nil {
			return fmt.Errorf("queue: the view of plan %s: %w", id, err)
		}
		return tx.SetView(ctx, id, text)
	})
}
