package db

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// Beat says that the worker process id lives.
func (q Queries) Beat(ctx context.Context, id string) error {
	_, err := q.exec(ctx, "beat", `
		insert into workers (id) values ($1) on conflict (id) do update set beat = now()`, id)
	return err
}

// Beats writes the beat of the worker process id every so often and calls
// beaten after each, until ctx ends or the connection breaks. It always
// returns an error. It has a connection of its own, so that a busy pool never
// makes a live worker look dead.
func (d *DB) Beats(ctx context.Context, id string, every time.Duration, beaten func()) error {
	conn, err := d.connect(ctx)
	if err != nil {
		return wrap("beat", err)
	}
	defer conn.Close(context.WithoutCancel(ctx))
	for {
		if err := beatOnce(ctx, conn, id, 5*every); err != nil {
			return err
		}
		beaten()
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(every):
		}
	}
}

// beatOnce writes one beat within limit. One under way when ctx ends is let
// end: cut short, the server might write it after the worker has left.
func beatOnce(ctx context.Context, conn *pgx.Conn, id string, limit time.Duration) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), limit)
	defer cancel()
	return (Queries{conn}).Beat(ctx, id)
}

// Leave says that the worker process id has ended and holds no job.
func (q Queries) Leave(ctx context.Context, id string) error {
	_, err := q.exec(ctx, "leave", `delete from workers where id = $1`, id)
	return err
}

// ReturnedJob is a job that a dead worker had.
type ReturnedJob struct {
	ID      int64  `db:"id"`
	Kind    string `db:"kind"`
	Attempt int    `db:"attempt"`
	Worker  string `db:"worker"`
}

// ReturnJobs makes the jobs of dead workers available to others: those whose
// worker has not beaten for the time of a lease. A job that was to be
// cancelled is cancelled, one that has no attempt left is discarded. All times
// are the server's, so clocks of different machines do not matter.
func (q Queries) ReturnJobs(ctx context.Context, lease time.Duration) ([]ReturnedJob, error) {
	returned, err := all[ReturnedJob](ctx, q, "return jobs of dead workers", `
		with orphans as (
			select j.id, o.worker, case
				when j.metadata ? 'cancel_attempted_at' then 'cancelled'
				when j.attempt >= j.max_attempts then 'discarded'
				else 'available' end::river_job_state as state
			from river_job j, lateral (select j.attempted_by[array_upper(j.attempted_by, 1)] as worker) o
			where j.state = 'running' and not exists (
				select from workers w
				where w.id = o.worker and w.beat > now() - make_interval(secs => $1))
			order by j.id
			for update of j skip locked
		)
		update river_job j set state = o.state, scheduled_at = now(),
			finalized_at = case when o.state <> 'available' then now() end
		from orphans o where j.id = o.id
		returning j.id, j.kind, j.attempt, coalesce(o.worker, '') as worker`, lease.Seconds())
	if err != nil {
		return nil, err
	}
	_, err = q.exec(ctx, "forget dead workers", `
		delete from workers where beat <= now() - make_interval(secs => 10 * $1::float8)`, lease.Seconds())
	return returned, err
}

// Overtaken says whether a later attempt at the job runs.
func (q Queries) Overtaken(ctx context.Context, job int64, attempt int) (bool, error) {
	var yes bool
	err := q.conn.QueryRow(ctx, `select exists (select from river_job where id = $1 and state = 'running' and attempt > $2)`, job, attempt).Scan(&yes)
	return yes, wrap("look for a later attempt", err)
}

// Sweeping takes the right to look after dead workers' jobs for the length of
// the transaction; false where another process has it.
func (q Queries) Sweeping(ctx context.Context) (bool, error) {
	const sweeping = 0x6b6e6966655f7377
	var mine bool
	err := q.conn.QueryRow(ctx, `select pg_try_advisory_xact_lock($1)`, int64(sweeping)).Scan(&mine)
	return mine, wrap("sweep", err)
}
