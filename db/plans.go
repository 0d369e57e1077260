package db

import (
	"context"
	"time"

	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// Status is how a plan stands.
type Status string

// The statuses. A plan is queued until a worker takes it up and working while
// stages run; the others are settled: only a person moves the plan on.
const (
	Queued    Status = "queued"
	Working   Status = "working"
	Asking    Status = "asking"    // a question is open
	Ready     Status = "ready"     // every stage is done
	Refused   Status = "refused"   // a finding blocks it
	Failed    Status = "failed"    // the program could not do it: see Failure
	Cancelled Status = "cancelled" // by its client
)

// Settled says whether nothing more happens to the plan of its own accord.
func (s Status) Settled() bool { return s != Queued && s != Working }

// Queue names who is waiting: a person or nobody in particular.
type Queue string

// The queues. Each has workers of its own.
const (
	Interactive Queue = "interactive"
	Batch       Queue = "batch"
)

// Plan is one request of a client and how it stands.
type Plan struct {
	ID              uuid.UUID    `db:"id"`
	Client          string       `db:"client"`
	Drawing         uuid.UUID    `db:"drawing"`
	Hash            []byte       `db:"hash"` // SHA-256 of the drawing's bytes
	Request         plan.Request `db:"request"`
	Status          Status       `db:"status"`
	Failure         string       `db:"failure"` // a stable code where Status is Failed
	Queue           Queue        `db:"queue"`
	ClientReference string       `db:"client_reference"`
	Supersedes      *uuid.UUID   `db:"supersedes"`
	Revision        int          `db:"revision"` // raised by every change of Request
	Created         time.Time    `db:"created"`
	Updated         time.Time    `db:"updated"`
}

const planColumns = `p.id, p.client, p.drawing, p.request, p.status, p.failure, p.queue,
	p.client_reference, p.supersedes, p.revision, p.created, p.updated,
	(select d.hash from drawings d where d.id = p.drawing) as hash`

// AddPlan keeps a new plan. Of p it reads Client, Drawing, Request, Queue,
// ClientReference and Supersedes.
func (q Queries) AddPlan(ctx context.Context, p Plan) (Plan, error) {
	return one[Plan](ctx, q, "add a plan", `
		with p as (
			insert into plans (client, drawing, request, status, queue, client_reference, supersedes)
			values ($1, $2, $3, 'queued', $4, $5, $6) returning *
		) select `+planColumns+` from p`,
		p.Client, p.Drawing, p.Request, p.Queue, p.ClientReference, p.Supersedes)
}

// Plan returns a plan of client; ErrNotFound where it is another's.
func (q Queries) Plan(ctx context.Context, client string, id uuid.UUID) (Plan, error) {
	return one[Plan](ctx, q, "read a plan",
		`select `+planColumns+` from plans p where p.id = $1 and p.client = $2`, id, client)
}

// LockPlan returns a plan, whosever it is, and keeps others from changing it
// until the transaction ends.
func (q Queries) LockPlan(ctx context.Context, id uuid.UUID) (Plan, error) {
	return one[Plan](ctx, q, "lock a plan",
		`select `+planColumns+` from plans p where p.id = $1 for update of p`, id)
}

// LockWaiting locks the plans that wait for the result under key, in the
// order of their IDs, so that two transactions never lock them crosswise.
func (q Queries) LockWaiting(ctx context.Context, key string) ([]Plan, error) {
	return all[Plan](ctx, q, "lock the plans that wait", `
		select `+planColumns+` from plans p
		where p.id in (select w.plan from waiters w where w.key = $1)
		order by p.id for update of p`, key)
}

// SetStatus changes how a plan stands and tells those who watch it.
func (q Queries) SetStatus(ctx context.Context, id uuid.UUID, status Status, failure string) error {
	err := q.touch(ctx, "set a plan's status",
		`update plans set status = $2, failure = $3, updated = now() where id = $1`, id, status, failure)
	if err != nil {
		return err
	}
	return q.Announce(ctx, id)
}

// SetRequest changes a plan's request, which makes a new revision of it.
func (q Queries) SetRequest(ctx context.Context, id uuid.UUID, r plan.Request) error {
	return q.touch(ctx, "change a plan's request",
		`update plans set request = $2, revision = revision + 1, updated = now() where id = $1`, id, r)
}

// PlanFilter picks plans of one client; its zero fields pick all.
type PlanFilter struct {
	Client          string
	Status          Status
	ClientReference string
	Before          *PlanCursor // plans older than this
	Limit           int
}

// PlanCursor is a place in the list of plans, the newest first.
type PlanCursor struct {
	Created time.Time
	ID      uuid.UUID
}

// Plans lists plans, the newest first.
func (q Queries) Plans(ctx context.Context, f PlanFilter) ([]Plan, error) {
	var created *time.Time
	var id *uuid.UUID
	if f.Before != nil {
		created, id = &f.Before.Created, &f.Before.ID
	}
	return all[Plan](ctx, q, "list plans", `
		select `+planColumns+` from plans p
		where p.client = $1
			and ($2 = '' or p.status = $2)
			and ($3 = '' or p.client_reference = $3)
			and ($4::timestamptz is null or (p.created, p.id) < ($4, $5::uuid))
		order by p.created desc, p.id desc limit $6`,
		f.Client, f.Status, f.ClientReference, created, id, f.Limit)
}
