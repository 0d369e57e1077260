package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Plan is one request of a client and how it stands.
type Plan struct {
	ID              uuid.UUID  `db:"id"`
	Client          string     `db:"client"`
	Drawing         uuid.UUID  `db:"drawing"`
	Hash            []byte     `db:"hash"`    // SHA-256 of the drawing's bytes
	Request         []byte     `db:"request"` // JSON, byte for byte as it was written
	List            int        `db:"list"`    // revision of the list of jobs that made its keys
	Status          string     `db:"status"`
	Failure         string     `db:"failure"` // a stable code where it failed
	Queue           Queue      `db:"queue"`
	ClientReference string     `db:"client_reference"`
	CostCode        string     `db:"cost_code"` // what it is charged to
	Supersedes      *uuid.UUID `db:"supersedes"`
	RecutOf         *uuid.UUID `db:"recut_of"` // of which it cuts again what was spoiled
	RecutReason     string     `db:"recut_reason"`
	Trace           string     `db:"trace"`    // of the request that made it: a traceparent
	Revision        int        `db:"revision"` // raised by every change of Request
	Created         time.Time  `db:"created"`
	Updated         time.Time  `db:"updated"`
}

// Queue names who is waiting: a person or nobody in particular.
type Queue string

// The queues. Each has workers of its own.
const (
	Interactive Queue = "interactive"
	Batch       Queue = "batch"
)

const planColumns = `p.id, p.client, p.drawing, p.request, p.list, p.status, p.failure, p.queue,
	p.client_reference, p.cost_code, p.supersedes, p.recut_of, p.recut_reason, p.trace, p.revision, p.created, p.updated,
	(select d.hash from drawings d where d.id = p.drawing) as hash`

// AddPlan keeps a new plan with what callers see of it. Of p it reads ID, Client,
// Drawing, Request, List, Status, Queue, ClientReference, CostCode, Supersedes,
// RecutOf, RecutReason and Trace.
func (q planTable) AddPlan(ctx context.Context, p Plan, view []byte) error {
	return q.later(ctx, "add a plan", nil, `
		insert into plans (id, client, drawing, request, list, status, queue, client_reference, cost_code, supersedes, view, recut_of, recut_reason, trace, awaited)
		values ($1, $2, $3, $4::text::json, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, case when $7 = 'interactive' then now() end)`,
		p.ID, p.Client, p.Drawing, string(p.Request), p.List, p.Status, p.Queue, p.ClientReference, p.CostCode, p.Supersedes, view, p.RecutOf, p.RecutReason, p.Trace)
}

// Plan returns a plan of client; ErrNotFound where it is another's.
func (q planTable) Plan(ctx context.Context, client string, id uuid.UUID) (Plan, error) {
	return one[Plan](ctx, q.on, "read a plan",
		`select `+planColumns+` from plans p where p.id = $1 and $2 in (p.client, '*')`, id, client)
}

// LockPlan returns a plan of any client and keeps others from changing it until
// the transaction ends.
func (q planTable) LockPlan(ctx context.Context, id uuid.UUID) (Plan, error) {
	return one[Plan](ctx, q.on, "lock a plan",
		`select `+planColumns+` from plans p where p.id = $1 for update of p`, id)
}

// SetRequest changes a plan's request, which makes a new revision of it.
func (q planTable) SetRequest(ctx context.Context, id uuid.UUID, request []byte) error {
	return q.touch(ctx, "change a plan's request",
		`update plans set request = $2::text::json, revision = revision + 1, since = now(), updated = now() where id = $1`, id, string(request))
}

// SetDurations keeps how long a plan takes, and returns what was kept before: of the
// plan or else of the one that it supersedes; empty where there is nothing.
func (q planTable) SetDurations(ctx context.Context, id uuid.UUID, durations string) (before string, err error) {
	err = q.conn.QueryRow(ctx, `
		with old as (
			select coalesce(nullif(p.durations, ''), (select s.durations from plans s where s.id = p.supersedes), '') as durations from plans p where p.id = $1
		), now as (update plans set durations = $2 where id = $1 and durations <> $2)
		select durations from old`, id, durations).Scan(&before)
	return before, wrap("keep the durations of a plan", err)
}

// SetList notes by which revision of the list of jobs a plan's keys are made.
func (q planTable) SetList(ctx context.Context, id uuid.UUID, list int) error {
	return q.touch(ctx, "note a plan's jobs", `update plans set list = $2 where id = $1`, id, list)
}

// Idle lists plans that should move and wait for nothing, at most limit: those
// made by a list of jobs up to the revision.
func (q planTable) Idle(ctx context.Context, list, limit int) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "find idle plans", `
		select p.id from plans p
		where p.status in ('queued', 'working') and p.list <= $1
			and not exists (select from waiters w where w.plan = p.id)
		order by p.id limit $2`, list, limit)
}

// Moving is how many plans of a client are queued or worked on.
type Moving struct {
	Client string `db:"client"`
	Plans  int    `db:"plans"`
}

// Moving counts the plans that are queued or worked on, of each client that has some.
func (q planTable) Moving(ctx context.Context) ([]Moving, error) {
	return all[Moving](ctx, q.on, "count the plans that move",
		`select p.client, count(*)::int as plans from plans p where p.status in ('queued', 'working') group by p.client`)
}

// WaitsForNothing says whether a plan should move and waits for nothing.
func (q planTable) WaitsForNothing(ctx context.Context, id uuid.UUID) (bool, error) {
	var yes bool
	err := q.conn.QueryRow(ctx, `
		select exists (select from plans p where p.id = $1 and p.status in ('queued', 'working')
			and not exists (select from waiters w where w.plan = p.id))`, id).Scan(&yes)
	return yes, wrap("look at an idle plan", err)
}
