package db

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// Work is a result that is being computed, or is queued to be. The job and
// attempt in the row own it; nobody else may put the result in. A job below 0 is a
// span that waits to be admitted to the queue.
type Work struct {
	Key      string     `db:"key"`
	Stage    string     `db:"stage"`
	Revision int        `db:"revision"`
	Reads    []byte     `db:"reads"` // JSON, byte for byte as it was hashed
	File     []byte     `db:"file"`  // SHA-256; nil: it does not start from a file
	Needs    []string   `db:"needs"` // keys of the results it needs
	Queue    Queue      `db:"queue"`
	Job      int64      `db:"job"`
	Place    int        `db:"place"` // in the span of the job
	Attempt  int        `db:"attempt"`
	Faults   int        `db:"faults"` // attempts that the job itself ended badly
	Losses   int        `db:"losses"` // attempts whose worker was not heard of again
	Started  *time.Time `db:"started"`

	// What says when a span is admitted, and to whom it is charged (admission.go).
	Client string    `db:"client"`
	Plan   uuid.UUID `db:"plan"` // who asked first
	List   int       `db:"list"` // revision of the list of jobs that it is made by
	Cost   float64   `db:"cost"` // estimate of its first job, in seconds
	Heavy  bool      `db:"heavy"`
}

const workColumns = "key, stage, revision, reads, file, needs, queue, job, place, attempt, faults, losses, started, client, plan, list, cost, heavy"

// lockKeys makes the transaction the only one at work on the keys of a query
// until it ends. Putting a result in and beginning to wait for it exclude each
// other so, also while there is no row to lock.
const lockKeys = `select pg_advisory_xact_lock(h) from (
	select distinct hashtextextended(k, 0) as h from (%s) keys (k) order by h
) locks`

// The keys to lock: those given, and those of the span of a job.
var (
	lockGiven = fmt.Sprintf(lockKeys, `select unnest($1::text[])`)
	lockSpan  = fmt.Sprintf(lockKeys, `select key from work where job = $1`)
)

// LockKeys makes the transaction the only one at work on the keys until it ends.
func (q workTable) LockKeys(ctx context.Context, keys ...string) error {
	_, err := q.exec(ctx, "lock keys", lockGiven, keys)
	return err
}

// LockWork is LockKeys for the span of a job, and returns its work.
func (q workTable) LockWork(ctx context.Context, job int64) ([]Work, error) {
	var b pgx.Batch
	var work []Work
	b.Queue(lockSpan, job)
	b.Queue(`select `+workColumns+` from work where job = $1 order by place`, job).Query(into(&work))
	return work, q.send(ctx, "lock the work of a job", &b)
}

// SpanKey is a key of a span and the attempt that owns it.
type SpanKey struct {
	Key     string `db:"key"`
	Attempt int    `db:"attempt"`
}

const spanKeys = `select key, attempt from work where job = $1 order by place`

// SpanKeys returns the keys of the span of a job, in order.
func (q workTable) SpanKeys(ctx context.Context, job int64) ([]SpanKey, error) {
	return all[SpanKey](ctx, q.on, "read the keys of a job", spanKeys, job)
}

// LockSpan is LockKeys for the span of a job, and returns its keys.
func (q workTable) LockSpan(ctx context.Context, job int64) ([]SpanKey, error) {
	var b pgx.Batch
	var keys []SpanKey
	b.Queue(lockSpan, job)
	b.Queue(spanKeys, job).Query(into(&keys))
	return keys, q.send(ctx, "lock the keys of a job", &b)
}

// LockMissing is LockKeys for the first of the keys. It says whether its result
// has come in meanwhile, and what is being done about all of them.
func (q workTable) LockMissing(ctx context.Context, keys ...string) (there bool, work []Work, err error) {
	var b pgx.Batch
	b.Queue(lockGiven, keys[:1])
	b.Queue(`select exists (select from results where key = $1)`, keys[0]).QueryRow(func(row pgx.Row) error { return row.Scan(&there) })
	b.Queue(`select `+workColumns+` from work where key = any($1)`, keys).Query(into(&work))
	err = q.send(ctx, "look for missing results", &b)
	return there, work, err
}

// AddWork adds a span that waits to be admitted, under a number below 0 that stands for
// its job until then. ErrAgain: another began with some of it at this moment. Client, Plan,
// List, Cost, Heavy and Queue are those of the first row; the plan may be one that is added
// later in the transaction. Keys hold no commas.
func (q workTable) AddWork(ctx context.Context, work ...Work) error {
	n := len(work)
	keys, stages, revisions, reads := make([]string, n), make([]string, n), make([]int, n), make([]string, n)
	files, needs, places := make([][]byte, n), make([]string, n), make([]int, n)
	for i, w := range work {
		keys[i], stages[i], revisions[i], reads[i] = w.Key, w.Stage, w.Revision, string(w.Reads)
		files[i], needs[i], places[i] = w.File, strings.Join(w.Needs, ","), w.Place
	}
	of := work[0]
	all := func(added int64) error {
		if added < int64(n) {
			return ErrAgain
		}
		return nil
	}
	return q.later(ctx, "add work", all, `
		with s as materialized (
			select -nextval('spans') as job, coalesce(p.since, now()) + make_interval(secs => $12) as due,
				coalesce(p.awaited > now() - make_interval(secs => $13), $8 = 'interactive') as awaited
			from (select $10::uuid) f (plan) left join plans p on p.id = f.plan
		)
		insert into work (key, stage, revision, reads, file, needs, place, queue, client, plan, list, cost, heavy, job, due, awaited)
		select n.key, n.stage, n.revision, n.reads::json, n.file, string_to_array(n.needs, ','), n.place, $8, $9, $10, $11, $12, $14, s.job, s.due, s.awaited
		from s, unnest($1::text[], $2::text[], $3::int[], $4::text[], $5::bytea[], $6::text[], $7::int[])
			n (key, stage, revision, reads, file, needs, place)
		on conflict do nothing`,
		keys, stages, revisions, reads, files, needs, places, of.Queue, of.Client, of.Plan, of.List, of.Cost, seenFor.Seconds(), of.Heavy)
}

// Depth is how much work of a queue no worker has begun, and for how long the oldest
// of it has been there.
type Depth struct {
	Queue  Queue   `db:"queue"`
	Jobs   int     `db:"jobs"`
	Oldest float64 `db:"oldest"` // seconds, 0 where there is none
}

// Depths returns the depth of every queue.
func (q workTable) Depths(ctx context.Context) ([]Depth, error) {
	return all[Depth](ctx, q.on, "measure the queues", `
		select n.queue, count(distinct w.job)::int as jobs, coalesce(extract(epoch from now() - min(w.created)), 0)::float8 as oldest
		from unnest($1::text[]) n (queue) left join work w on w.queue = n.queue and w.attempt = 0
		group by n.queue order by n.queue`, []string{string(Interactive), string(Batch)})
}

// HurryWork has the work of a job wait anew to be admitted, as that of a person who
// waits now, and returns the number that stands for its job until then.
func (q workTable) HurryWork(ctx context.Context, job int64) (waiting int64, err error) {
	given, err := column[int64](ctx, q.on, "hurry work", `
		with s as materialized (select -nextval('spans') as job)
		update work set job = s.job, queue = 'interactive', attempt = 0, started = null, awaited = true,
			due = least(due, now() + make_interval(secs => cost))
		from s where work.job = $1 returning s.job`, job)
	if err == nil && len(given) == 0 {
		err = wrap("hurry work", ErrNotFound)
	}
	if err != nil {
		return 0, err
	}
	return given[0], nil
}

// StartWork is LockKeys for the span of a job; it makes an attempt the owner of
// the span, unless a later one is, and returns the span and whether anybody waits
// for some of it. An attempt before it that still owns the span is counted as lost:
// nobody knows at which of its keys.
func (q workTable) StartWork(ctx context.Context, job int64, attempt int) (span []Work, waited bool, err error) {
	var b pgx.Batch
	b.Queue(lockSpan, job)
	b.Queue(`
		with mine as (
			update work w set
				losses = losses + case when attempt not in (0, $2) then 1 else 0 end,
				attempt = $2, started = coalesce(started, now())
			where job = $1 and attempt <= $2 returning `+workColumns+`
		) select * from mine order by place`, job, attempt).Query(into(&span))
	b.Queue(`select exists (select from work k join waiters w on w.key = k.key where k.job = $1)
		or exists (select from work k join class_waiters w on w.key = k.key where k.job = $1)`, job).
		QueryRow(func(row pgx.Row) error { return row.Scan(&waited) })
	return span, waited, q.send(ctx, "start work", &b)
}

// CountFault notes that the job itself ended badly at key; no attempt owns the
// span any more.
func (q workTable) CountFault(ctx context.Context, job int64, key string) (int, error) {
	faults, err := column[int](ctx, q.on, "count a fault", `
		update work set attempt = 0, faults = faults + case when key = $2 then 1 else 0 end where job = $1
		returning case when key = $2 then faults else 0 end`, job, key)
	most := 0
	for _, n := range faults {
		most = max(most, n)
	}
	return most, err
}

// EndWork ends the work on keys, and the waiting for them.
func (q workTable) EndWork(ctx context.Context, keys ...string) error {
	return q.later(ctx, "end work", nil, `delete from work where key = any($1)`, keys)
}

// WaitFor has a plan wait for key.
func (q workTable) WaitFor(ctx context.Context, id uuid.UUID, key string) error {
	return q.later(ctx, "wait for a result", nil, `insert into waiters (plan, key) values ($1, $2) on conflict do nothing`, id, key)
}

// Waited is a key that is waited for, and the job that computes it.
type Waited struct {
	Key string `db:"key"`
	Job int64  `db:"job"`
}

// WaitsFor returns what a plan waits for, by key.
func (q workTable) WaitsFor(ctx context.Context, id uuid.UUID) ([]Waited, error) {
	return all[Waited](ctx, q.on, "read what a plan waits for", `
		select w.key, k.job from waiters w join work k on k.key = w.key where w.plan = $1 order by w.key`, id)
}

// Waiter is a plan that waits for a key.
type Waiter struct {
	Plan uuid.UUID `db:"plan"`
	Waited
}

// Waiters returns who waits for the keys.
func (q workTable) Waiters(ctx context.Context, keys ...string) ([]Waiter, error) {
	return all[Waiter](ctx, q.on, "read who waits", `
		select w.plan, w.key, k.job from waiters w join work k on k.key = w.key where w.key = any($1) order by w.plan, w.key`, keys)
}

// LockWaiting locks the plans that wait for one of the results under keys, in the order
// of their IDs, so that two transactions never lock them crosswise. It returns them, and
// the groups of class sets that wait for one of those under ended, by ID.
func (q workTable) LockWaiting(ctx context.Context, keys, ended []string) (plans []Plan, groups []ClassGroup, err error) {
	var b pgx.Batch
	b.Queue(`select `+planColumns+` from plans p
		where p.id in (select w.plan from waiters w where w.key = any($1))
		order by p.id for update of p`, keys).Query(into(&plans))
	b.Queue(`select `+groupColumns+` from class_groups g
		where g.id in (select w.class_group from class_waiters w where w.key = any($1)) order by g.id`, ended).Query(into(&groups))
	err = q.send(ctx, "lock the plans that wait", &b)
	return plans, groups, err
}

// WaitingFor returns the plans that wait for some of what a job computes.
func (q workTable) WaitingFor(ctx context.Context, job int64) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "read who waits", `
		select distinct w.plan from work k join waiters w on w.key = k.key where k.job = $1 order by w.plan`, job)
}

// LeaveKey ends a plan's waiting for key.
func (q workTable) LeaveKey(ctx context.Context, id uuid.UUID, key string) error {
	return q.later(ctx, "stop waiting", nil, `delete from waiters where plan = $1 and key = $2`, id, key)
}

// TrimWork ends the work of a job past the last key of its span that somebody
// waits for. It returns how many keys are left of the span and how many went.
func (q workTable) TrimWork(ctx context.Context, job int64) (left, gone int, err error) {
	err = q.conn.QueryRow(ctx, `
		with wanted as (
			select coalesce(max(place), -1) as last from work k where job = $1
				and (exists (select from waiters w where w.key = k.key) or exists (select from class_waiters w where w.key = k.key))
		), trimmed as (
			delete from work using wanted where job = $1 and place > last returning place
		) select (select count(*) from work where job = $1) - (select count(*) from trimmed), (select count(*) from trimmed)`, job).Scan(&left, &gone)
	return left, gone, wrap("trim work", err)
}
