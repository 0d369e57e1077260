package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Work is a result that is being computed, or is queued to be. The job and
// attempt in the row own it; nobody else may put the result in.
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
}

const workColumns = "key, stage, revision, reads, file, needs, queue, job, place, attempt, faults, losses, started"

// LockKeys makes the transaction the only one at work on the keys until it
// ends. Putting a result in and beginning to wait for it exclude each other so,
// also while there is no row to lock.
func (q Queries) LockKeys(ctx context.Context, keys ...string) error {
	_, err := q.exec(ctx, "lock keys", `
		select pg_advisory_xact_lock(h) from (
			select distinct hashtextextended(k, 0) as h from unnest($1::text[]) k order by h
		) locks`, keys)
	return err
}

// Work returns the work on those of the keys that there is any on, in no order.
func (q Queries) Work(ctx context.Context, keys ...string) ([]Work, error) {
	return all[Work](ctx, q, "read work", `select `+workColumns+` from work where key = any($1)`, keys)
}

// WorkOf returns the span of a job, in order.
func (q Queries) WorkOf(ctx context.Context, job int64) ([]Work, error) {
	return all[Work](ctx, q, "read the work of a job", `select `+workColumns+` from work where job = $1 order by place`, job)
}

// AddWork begins work for a job, and returns the keys of what was not being
// worked on already.
func (q Queries) AddWork(ctx context.Context, w ...Work) ([]string, error) {
	var added []string
	for _, r := range w {
		n, err := q.exec(ctx, "add work", `
			insert into work (key, stage, revision, reads, file, needs, queue, job, place, attempt, started)
			values ($1, $2, $3, $4::text::json, $5, $6, $7, $8, $9, $10, $11) on conflict do nothing`,
			r.Key, r.Stage, r.Revision, string(r.Reads), r.File, r.Needs, r.Queue, r.Job, r.Place, r.Attempt, r.Started)
		if err != nil {
			return added, err
		}
		if n == 1 {
			added = append(added, r.Key)
		}
	}
	return added, nil
}

// GiveWork makes another job the owner of the work of a job.
func (q Queries) GiveWork(ctx context.Context, from, to int64, queue Queue) error {
	return q.touch(ctx, "give work to another job",
		`update work set job = $2, queue = $3, attempt = 0, started = null where job = $1`, from, to, queue)
}

// StartWork makes an attempt the owner of the span of its job, unless a later
// one is, and returns the span. An attempt before it that still owns the span
// is counted as lost at its first row.
func (q Queries) StartWork(ctx context.Context, job int64, attempt int) ([]Work, error) {
	return all[Work](ctx, q, "start work", `
		with mine as (
			update work w set
				losses = losses + case when attempt not in (0, $2) and place = (select min(place) from work f where f.job = $1) then 1 else 0 end,
				attempt = $2, started = coalesce(started, now())
			where job = $1 and attempt <= $2 returning `+workColumns+`
		) select * from mine order by place`, job, attempt)
}

// CountFault notes that the job itself ended badly at key; no attempt owns the
// span any more.
func (q Queries) CountFault(ctx context.Context, job int64, key string) (int, error) {
	faults, err := column[int](ctx, q, "count a fault", `
		update work set attempt = 0, faults = faults + case when key = $2 then 1 else 0 end where job = $1
		returning case when key = $2 then faults else 0 end`, job, key)
	most := 0
	for _, n := range faults {
		most = max(most, n)
	}
	return most, err
}

// EndWork ends the work on keys, and the waiting for them.
func (q Queries) EndWork(ctx context.Context, keys ...string) error {
	_, err := q.exec(ctx, "end work", `delete from work where key = any($1)`, keys)
	return err
}

// WaitFor has a plan wait for key.
func (q Queries) WaitFor(ctx context.Context, id uuid.UUID, key string) error {
	_, err := q.exec(ctx, "wait for a result", `insert into waiters (plan, key) values ($1, $2) on conflict do nothing`, id, key)
	return err
}

// Waited is a key that is waited for, and the job that computes it.
type Waited struct {
	Key string `db:"key"`
	Job int64  `db:"job"`
}

// WaitsFor returns what a plan waits for, by key.
func (q Queries) WaitsFor(ctx context.Context, id uuid.UUID) ([]Waited, error) {
	return all[Waited](ctx, q, "read what a plan waits for", `
		select w.key, k.job from waiters w join work k on k.key = w.key where w.plan = $1 order by w.key`, id)
}

// Waiter is a plan that waits for a key.
type Waiter struct {
	Plan uuid.UUID `db:"plan"`
	Waited
}

// Waiters returns who waits for the keys.
func (q Queries) Waiters(ctx context.Context, keys ...string) ([]Waiter, error) {
	return all[Waiter](ctx, q, "read who waits", `
		select w.plan, w.key, k.job from waiters w join work k on k.key = w.key where w.key = any($1) order by w.plan, w.key`, keys)
}

// LeaveKey ends a plan's waiting for key.
func (q Queries) LeaveKey(ctx context.Context, id uuid.UUID, key string) error {
	_, err := q.exec(ctx, "stop waiting", `delete from waiters where plan = $1 and key = $2`, id, key)
	return err
}

// TrimWork ends the work of a job past the last key of its span that somebody
// waits for. It returns how many keys are left of the span and how many went.
func (q Queries) TrimWork(ctx context.Context, job int64) (left, gone int, err error) {
	err = q.conn.QueryRow(ctx, `
		with wanted as (
			select coalesce(max(place), -1) as last from work k where job = $1 and exists (select from waiters w where w.key = k.key)
		), trimmed as (
			delete from work using wanted where job = $1 and place > last returning place
		) select (select count(*) from work where job = $1) - (select count(*) from trimmed), (select count(*) from trimmed)`, job).Scan(&left, &gone)
	return left, gone, wrap("trim work", err)
}
