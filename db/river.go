package db

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivermigrate"
)

// All that reads or changes the tables of the queue's library by itself stands
// in this file: the library has no call for a job whose worker has died, nor
// for one that another attempt took over.

// riverVersion is the version of the library's tables that this file is written
// for.
const riverVersion = 8

// CheckRiver fails where the library that the program is built with, or the
// database, has tables of another version than this file is written for.
func (d *DB) CheckRiver(ctx context.Context) error {
	steps, err := rivermigrate.New(riverpgxv5.New(d.Pool), nil)
	if err != nil {
		return fmt.Errorf("db: the queue's tables: %w", err)
	}
	there, err := steps.ExistingVersions(ctx)
	if err != nil {
		return fmt.Errorf("db: the queue's tables: %w", err)
	}
	known, has := steps.AllVersions(), 0
	for _, v := range there {
		has = max(has, v.Version)
	}
	if newest := known[len(known)-1].Version; newest != riverVersion || has != riverVersion {
		return fmt.Errorf("db: the queue's tables have version %d and its library knows %d; this program is written for %d", has, newest, riverVersion)
	}
	return nil
}

// ReturnedJob is a job that a worker had which does not run it.
type ReturnedJob struct {
	ID      int64  `db:"id"`
	Kind    string `db:"kind"`
	Attempt int    `db:"attempt"`
	Worker  string `db:"worker"`
}

// ReturnJobs makes the jobs that nobody runs available to others: those whose
// worker has not beaten for the time of a lease, and those that worker mine took
// longer ago than that without knowing of it, which are not among held. A job that
// was to be cancelled is cancelled, one that has no attempt left is discarded. All
// times are the server's, so clocks of different machines do not matter.
func (q riverTables) ReturnJobs(ctx context.Context, lease time.Duration, mine string, held []int64) ([]ReturnedJob, error) {
	return all[ReturnedJob](ctx, q.on, "return jobs of dead workers", `
		with orphans as (
			select j.id, o.worker, case
				when j.metadata ? 'cancel_attempted_at' then 'cancelled'
				when j.attempt >= j.max_attempts then 'discarded'
				else 'available' end::river_job_state as state
			from river_job j, lateral (select j.attempted_by[array_upper(j.attempted_by, 1)] as worker) o
			where j.state = 'running' and (not exists (
				select from workers w
				where w.id = o.worker and w.beat > now() - make_interval(secs => $1))
				or o.worker = $2 and j.attempted_at < now() - make_interval(secs => $1) and j.id <> all($3::bigint[]))
			order by j.id
			for update of j skip locked
		)
		update river_job j set state = o.state, scheduled_at = now(),
			finalized_at = case when o.state <> 'available' then now() end
		from orphans o where j.id = o.id
		returning j.id, j.kind, j.attempt, coalesce(o.worker, '') as worker`, lease.Seconds(), mine, given(held))
}

// EndJob marks a running job done. The library's own statement for it costs ten times
// as much; ErrNotFound where the job does not run.
func (q riverTables) EndJob(ctx context.Context, job int64) error {
	return q.later(ctx, "end a job", some, `update river_job set state = 'completed', finalized_at = now() where id = $1 and state = 'running'`, job)
}

// Overtaken says whether a later attempt at the job runs.
func (q riverTables) Overtaken(ctx context.Context, job int64, attempt int) (bool, error) {
	var yes bool
	err := q.conn.QueryRow(ctx, `select exists (select from river_job where id = $1 and state = 'running' and attempt > $2)`, job, attempt).Scan(&yes)
	return yes, wrap("look for a later attempt", err)
}

// orphaned is the condition on work w whose job has ended, or is gone, and
// left the work behind. It happens where a worker that was taken for dead is
// stopped while it stands back, and so reports to the queue after all.
const orphaned = `not exists (select from river_job j where j.id = w.job and j.finalized_at is null)`

// OrphanedJobs lists the jobs that are gone and whose work is not. Work that waits to
// be admitted has none yet.
func (q riverTables) OrphanedJobs(ctx context.Context) ([]int64, error) {
	return column[int64](ctx, q.on, "find orphaned work", `select distinct w.job from work w where w.job > 0 and `+orphaned+` order by w.job`)
}

// Orphaned says whether the work of a job is orphaned.
func (q riverTables) Orphaned(ctx context.Context, job int64) (bool, error) {
	jobs, err := column[int64](ctx, q.on, "find orphaned work", `select w.job from work w where w.job = $1 and `+orphaned+` limit 1`, job)
	return len(jobs) > 0, err
}

// endOldJobs cancels jobs of the kinds that programs before the schema's version 8
// had, one for each job of the list. No program takes them any more.
func (q riverTables) endOldJobs(ctx context.Context) error {
	_, err := q.exec(ctx, "end old jobs", `
		update river_job set state = 'cancelled', finalized_at = now()
		where finalized_at is null and kind in
			('read_drawing', 'repair_scale', 'make_artwork', 'map_weeding', 'lay_out_stock', 'plan_passes', 'price_plan')`)
	return err
}

// forgetJobs removes the ended jobs that computed for a plan first: what they
// ended with may tell of its drawing.
func (tx Tx) forgetJobs(ctx context.Context, plan uuid.UUID) error {
	_, err := on{tx.Raw}.exec(ctx, "forget the jobs of a plan",
		`delete from river_job where finalized_at is not null and args ->> 'plan' = $1`, plan.String())
	return err
}
