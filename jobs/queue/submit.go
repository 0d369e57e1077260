package queue

import (
	"context"
	"encoding/json"
	"fmt"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/trace"

	"github.com/google/uuid"
)

// Plan is one request of a client and how it stands.
type Plan struct {
	db.Plan
	Status plan.Status
}

func planOf(p db.Plan) Plan { return Plan{p, plan.Status(p.Status)} }

// SubmitParams are a request for a plan.
type SubmitParams struct {
	ID     uuid.UUID // of the plan; uuid.Nil: a new one
	Client string
	// Drawing names a drawing of the client; uuid.Nil: File is a new one.
	Drawing uuid.UUID
	Name    string // of the new drawing's file
	File    []byte
	Request plan.Request
	// Queue is Interactive where somebody waits; empty: Batch.
	Queue           db.Queue
	ClientReference string
	CostCode        string     // what it is charged to
	Supersedes      *uuid.UUID // an older plan of the client
	RecutOf         *uuid.UUID // a plan of the client of which it cuts again what was spoiled
	RecutReason     string
	// With, where set, runs in the same transaction once the plan is in, and
	// undoes it by an error. It must not change anything else.
	With func(ctx context.Context, tx db.Tx, p db.Plan) error
}

// Submit keeps the drawing and the plan and inserts its first job, all in one
// transaction, as it does with further plans of the same drawing. The first plan comes
// back, settled where every result is there, without its times. db.ErrNotFound: the drawing,
// or the plan that it supersedes or cuts again, is not the client's.
func (q *Queue) Submit(ctx context.Context, params SubmitParams, further ...SubmitParams) (Plan, error) {
	if params.Queue == db.Interactive {
		defer q.manners.press()()
	}
	var in *intake
	err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
		in = &intake{Queue: q, tx: tx}
		for _, one := range append([]SubmitParams{params}, further...) {
			if len(in.moves) > 0 {
				one.Drawing, one.File = in.moves[0].plan.Drawing, nil
			}
			m, err := submit(ctx, q, tx, one)
			if err != nil {
				return err
			}
			in.moves = append(in.moves, m)
		}
		if params.With != nil {
			if err := params.With(ctx, tx, in.moves[0].plan); err != nil {
				return err
			}
		}
		return in.refill(ctx)
	})
	if err != nil {
		return Plan{}, err
	}
	noteSubmitted(ctx, q, in.moves...)
	return planOf(in.moves[0].plan), nil
}

// submit takes a plan in within a transaction, which has to end with refillAfter.
func submit(ctx context.Context, q *Queue, tx db.Tx, params SubmitParams) (*move, error) {
	request, err := json.Marshal(params.Request)
	if err != nil {
		return nil, fmt.Errorf("queue: request: %w", err)
	}
	p, err := newPlan(ctx, q, tx, params, request)
	if err != nil {
		return nil, err
	}
	m := &move{Queue: q, tx: tx, plan: p, request: &params.Request, fresh: true, bytes: len(params.File)}
	return m, m.restart(ctx)
}

// noteSubmitted notes plans that were taken in, once that is committed.
func noteSubmitted(ctx context.Context, q *Queue, moves ...*move) {
	q.note(ctx, moves...)
	for _, m := range moves {
		q.log.With(trace.Parent(m.plan.Trace).Attrs()...).Info("plan submitted", "plan", m.plan.ID, "client", m.plan.Client, "status", m.plan.Status, "queue", m.plan.Queue)
	}
}

// newPlan returns a plan that is not in the store yet: its move puts it there.
func newPlan(ctx context.Context, q *Queue, tx db.Tx, params SubmitParams, request []byte) (db.Plan, error) {
	drawing, err := drawingOf(ctx, tx, params)
	if err != nil {
		return db.Plan{}, err
	}
	for _, other := range []*uuid.UUID{params.Supersedes, params.RecutOf} {
		if other == nil {
			continue
		}
		if _, err := tx.PlanStanding(ctx, params.Client, *other); err != nil {
			return db.Plan{}, err // which may have been erased since the caller looked
		}
	}
	lane := params.Queue
	if lane == "" {
		lane = db.Batch
	}
	id := params.ID
	if id == uuid.Nil {
		id = uuid.New()
	}
	return db.Plan{
		ID: id, Client: params.Client, Drawing: drawing.ID, Hash: drawing.Hash, Request: request, List: q.list, Queue: lane,
		ClientReference: params.ClientReference, CostCode: params.CostCode, Supersedes: params.Supersedes,
		RecutOf: params.RecutOf, RecutReason: params.RecutReason, Trace: string(trace.Of(ctx)), Revision: 1,
	}, nil
}

func drawingOf(ctx context.Context, tx db.Tx, params SubmitParams) (db.Drawing, error) {
	if params.Drawing != uuid.Nil {
		return tx.HoldDrawing(ctx, params.Client, params.Drawing)
	}
	return tx.AddDrawing(ctx, params.Client, params.Name, params.File)
}

// RequestOf reads the request of a plan.
func RequestOf(p db.Plan) (*plan.Request, error) {
	var r plan.Request
	if err := json.Unmarshal(p.Request, &r); err != nil {
		return nil, fmt.Errorf("queue: the request of plan %s: %w", p.ID, err)
	}
	return &r, nil
}

// graph returns the nodes of the plan.
func (m *move) graph() ([]jobs.Node, error) {
	if m.request == nil {
		var err error
		if m.request, err = RequestOf(m.plan); err != nil {
			return nil, err
		}
	}
	if m.nodes != nil {
		return m.nodes, nil
	}
	return jobs.Graph(m.rows, m.request, jobs.Sum(m.plan.Hash))
}

// restart gives the plan its stages anew, by this program's list of jobs, and
// moves it on. What it had is found under its keys again.
func (m *move) restart(ctx context.Context) (err error) {
	if m.foreign() {
		return m.yield(ctx)
	}
	if m.nodes, err = m.graph(); err != nil {
		return err
	}
	if m.plan.List != m.list {
		m.plan.List = m.list
		if err := m.tx.SetList(ctx, m.plan.ID, m.list); err != nil {
			return err
		}
	}
	return m.on(ctx)
}
