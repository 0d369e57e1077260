package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Work is a result that is being computed, or is queued to be. The job and
// attempt in the row own it; nobody else may put the result in.
type Work struct {
	Key     string     `db:"key"`
	Stage   string     `db:"stage"`
	Queue   Queue      `db:"queue"`
	Job     int64      `db:"job"`
	Attempt int        `db:"attempt"`
	Faults  int        `db:"faults"` // attempts that the stage itself ended badly
	Losses  int        `db:"losses"` // attempts whose worker was not heard of again
	Started *time.Time `db:"started"`
}

const workColumns = "key, stage, queue, job, attempt, faults, losses, started"

// LockKey makes the transaction the only one at work on key until it ends.
// Putting a result in and beginning to wait for it exclude each other so,
// also while there is no row to lock.
func (q Queries) LockKey(ctx context.Context, key string) error {
	_, err := q.exec(ctx, "lock a key", `select pg_advisory_xact_lock(hashtextextended($1, 0))`, key)
	return err
}

// Work returns the work on key; ErrNotFound where nobody asks for it.
func (q Queries) Work(ctx context.Context, key string) (Work, error) {
	return one[Work](ctx, q, "read work", `select `+workColumns+` from work where key = $1`, key)
}

// AddWork begins work on key for a job.
func (q Queries) AddWork(ctx context.Context, w Work) error {
	_, err := q.exec(ctx, "add work",
		`insert into work (key, stage, queue, job) values ($1, $2, $3, $4)`, w.Key, w.Stage, w.Queue, w.Job)
	return err
}

// GiveWork makes another job the owner of the work on key.
func (q Queries) GiveWork(ctx context.Context, key string, job int64, queue Queue) error {
	return q.touch(ctx, "give work to another job",
		`update work set job = $2, queue = $3, attempt = 0, started = null where key = $1`, key, job, queue)
}

// StartWork makes an attempt the owner of the work on key. An attempt before
// it that still owns the work is counted as lost.
func (q Queries) StartWork(ctx context.Context, key string, attempt int) (Work, error) {
	return one[Work](ctx, q, "start work", `
		update work set
			losses = losses + case when attempt not in (0, $2) then 1 else 0 end,
			attempt = $2, started = coalesce(started, now())
		where key = $1 returning `+workColumns, key, attempt)
}

// CountFault notes that the stage itself ended badly; no attempt owns the
// work any more.
func (q Queries) CountFault(ctx context.Context, key string) (Work, error) {
	return one[Work](ctx, q, "count a fault", `
		update work set faults = faults + 1, attempt = 0 where key = $1 returning `+workColumns, key)
}

// EndWork ends the work on key, and the waiting for it.
func (q Queries) EndWork(ctx context.Context, key string) error {
	return q.touch(ctx, "end work", `delete from work where key = $1`, key)
}

// AddWaiter has a plan wait for key.
func (q Queries) AddWaiter(ctx context.Context, id uuid.UUID, key string) error {
	_, err := q.exec(ctx, "wait for a result", `insert into waiters (plan, key) values ($1, $2)`, id, key)
	return err
}

// WaitsFor returns the key that a plan waits for, or "".
func (q Queries) WaitsFor(ctx context.Context, id uuid.UUID) (string, error) {
	keys, err := column[string](ctx, q, "read what a plan waits for", `select key from waiters where plan = $1`, id)
	if err != nil || len(keys) == 0 {
		return "", err
	}
	return keys[0], nil
}

// RemoveWaiter ends a plan's waiting for key and returns how many others wait
// for it.
func (q Queries) RemoveWaiter(ctx context.Context, id uuid.UUID, key string) (int, error) {
	if err := q.touch(ctx, "stop waiting", `delete from waiters where plan = $1 and key = $2`, id, key); err != nil {
		return 0, err
	}
	var left int
	err := q.conn.QueryRow(ctx, `select count(*) from waiters where key = $1`, key).Scan(&left)
	return left, wrap("count waiters", err)
}

// orphaned is the condition on work w whose job has ended, or is gone, and
// left the work behind. It happens where a worker that was taken for dead is
// stopped while it stands back, and so reports to the queue after all.
const orphaned = `not exists (select from river_job j where j.id = w.job and j.finalized_at is null)`

// OrphanedWork lists the keys of orphaned work.
func (q Queries) OrphanedWork(ctx context.Context) ([]string, error) {
	return column[string](ctx, q, "find orphaned work", `select w.key from work w where `+orphaned+` order by w.key`)
}

// Orphaned says whether the work on key is orphaned.
func (q Queries) Orphaned(ctx context.Context, key string) (bool, error) {
	keys, err := column[string](ctx, q, "find orphaned work", `select w.key from work w where w.key = $1 and `+orphaned, key)
	return len(keys) > 0, err
}
