package queue

import (
	"context"
	"encoding/json"
	"fmt"

	"knifedesk/db"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// SubmitParams are a request for a plan.
type SubmitParams struct {
	Client string
	// Drawing names a drawing of the client; uuid.Nil: File is a new one.
	Drawing uuid.UUID
	Name    string // of the new drawing's file
	File    []byte
	Request plan.Request
	// Queue is Interactive where somebody waits; empty: Batch.
	Queue           db.Queue
	ClientReference string
	Supersedes      *uuid.UUID // an older plan of the client
	// With, where set, runs in the same transaction once the plan is in, and
	// undoes it by an error. It must not change anything else.
	With func(ctx context.Context, tx db.Tx, p db.Plan) error
}

// Submit keeps the drawing and the plan and inserts its first job, all in one
// transaction. Where every result is there the plan comes back settled.
// db.ErrNotFound: the drawing or the older plan is not the client's.
func (q *Queue) Submit(ctx context.Context, params SubmitParams) (db.Plan, error) {
	request, err := canonical(params.Request)
	if err != nil {
		return db.Plan{}, err
	}
	params.Request = request
	var p db.Plan
	var m *move
	err = q.store.InTx(ctx, func(tx db.Tx) error {
		if p, err = addPlan(ctx, tx, params); err != nil {
			return err
		}
		m = &move{Queue: q, tx: tx, plan: p}
		if err := m.restart(ctx); err != nil {
			return err
		}
		if p, err = tx.LockPlan(ctx, p.ID); err != nil {
			return err
		}
		if params.With == nil {
			return nil
		}
		return params.With(ctx, tx, p)
	})
	if err != nil {
		return db.Plan{}, err
	}
	q.note(m)
	q.log.Info("plan submitted", "plan", p.ID, "client", p.Client, "status", p.Status, "queue", p.Queue)
	return p, nil
}

func addPlan(ctx context.Context, tx db.Tx, params SubmitParams) (db.Plan, error) {
	drawing, err := drawingOf(ctx, tx, params)
	if err != nil {
		return db.Plan{}, err
	}
	if params.Supersedes != nil {
		if _, err := tx.Plan(ctx, params.Client, *params.Supersedes); err != nil {
			return db.Plan{}, err
		}
	}
	queue := params.Queue
	if queue == "" {
		queue = db.Batch
	}
	return tx.AddPlan(ctx, db.Plan{
		Client: params.Client, Drawing: drawing.ID, Request: params.Request, Queue: queue,
		ClientReference: params.ClientReference, Supersedes: params.Supersedes,
	})
}

func drawingOf(ctx context.Context, tx db.Tx, params SubmitParams) (db.Drawing, error) {
	if params.Drawing != uuid.Nil {
		return tx.Drawing(ctx, params.Client, params.Drawing)
	}
	return tx.AddDrawing(ctx, params.Client, params.Name, params.File)
}

// canonical returns the request as it comes back from the store, so that a
// plan has the same keys with and without one: an empty list may become none.
func canonical(r plan.Request) (plan.Request, error) {
	text, err := json.Marshal(r)
	if err != nil {
		return plan.Request{}, fmt.Errorf("jobs: request: %w", err)
	}
	var same plan.Request
	if err := json.Unmarshal(text, &same); err != nil {
		return plan.Request{}, fmt.Errorf("jobs: request: %w", err)
	}
	return same, nil
}

// restart gives the plan its stages anew and moves it on. What it had is found
// under its keys again.
func (m *move) restart(ctx context.Context) error {
	names := make([]string, len(m.stages))
	for i, s := range m.stages {
		names[i] = s.Name
	}
	if err := m.tx.AddStages(ctx, m.plan.ID, names); err != nil {
		return err
	}
	return m.on(ctx)
}
