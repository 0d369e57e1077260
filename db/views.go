package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// PlanView is what callers read of a plan.
type PlanView struct {
	ID              uuid.UUID  `db:"id"`
	Client          string     `db:"client"`
	Drawing         uuid.UUID  `db:"drawing"`
	Status          string     `db:"status"`
	Failure         string     `db:"failure"`
	ClientReference string     `db:"client_reference"`
	CostCode        string     `db:"cost_code"`
	Supersedes      *uuid.UUID `db:"supersedes"`
	RecutOf         *uuid.UUID `db:"recut_of"`
	RecutReason     string     `db:"recut_reason"`
	Created         time.Time  `db:"created"`
	Updated         time.Time  `db:"updated"`
	Version         int64      `db:"version"` // raised by every change that shows
	Share           *float64   `db:"share"`   // of the job that is worked on, from 0 to 1; nil: it does not say
	View            []byte     `db:"view"`    // nil: not gathered yet
}

const viewColumns = `p.id, p.client, p.drawing, p.status, p.failure, p.client_reference, p.cost_code, p.supersedes, p.recut_of, p.recut_reason, p.created, p.updated, p.version, p.share, p.view`

// PlanView returns the view of a plan of client; ErrNotFound where it is
// another's.
func (q viewTable) PlanView(ctx context.Context, client string, id uuid.UUID) (PlanView, error) {
	return one[PlanView](ctx, q.on, "read a plan's view",
		`select `+viewColumns+` from plans p where p.id = $1 and $2 in (p.client, '*')`, id, client)
}

// PlanStanding is how a plan stands, and the version of its view.
type PlanStanding struct {
	Status  string `db:"status"`
	Failure string `db:"failure"`
	Version int64  `db:"version"`
	Seen    bool   `db:"seen"` // the view has been gathered
}

// PlanStanding returns how a plan of client stands; ErrNotFound where it is
// another's.
func (q viewTable) PlanStanding(ctx context.Context, client string, id uuid.UUID) (PlanStanding, error) {
	return one[PlanStanding](ctx, q.on, "read how a plan stands",
		`select p.status, p.failure, p.version, p.view is not null as seen from plans p where p.id = $1 and $2 in (p.client, '*')`, id, client)
}

// SetStatus changes how a plan stands and what callers see of it, and tells
// those who watch it. A nil view stays as it is.
func (q viewTable) SetStatus(ctx context.Context, id uuid.UUID, status, failure string, view []byte) error {
	return q.later(ctx, "set a plan's status", some, `
		with moved as (
			update plans set status = $2, failure = $3, view = coalesce($4, view), share = null, version = version + 1, updated = now()
			where id = $1 returning id
		) select pg_notify($5, id::text || ' ' || $2) from moved`, id, status, failure, view, planChannel)
}

// SetWorking notes that plans are being worked on, and tells those who watch
// them.
func (q viewTable) SetWorking(ctx context.Context, ids []uuid.UUID) error {
	_, err := q.exec(ctx, "set plans working", `
		with moved as (
			update plans set status = 'working', version = version + 1, updated = now()
			where id = any($1) and status <> 'working' returning id
		) select pg_notify($2, id::text || ' working') from moved`, ids, planChannel)
	return err
}

// SetShare notes how far an attempt of a job has come with what it computes now, from 0 to
// 1, in the plans and groups that wait for the job, and tells those who watch plans; nothing
// where the work is another's by now. What is being moved is left out: it is told of anyway.
func (q viewTable) SetShare(ctx context.Context, job int64, attempt int, share float64) error {
	_, err := q.exec(ctx, "note how far a job is", `
		with looked as (
			select p.id from plans p
			where p.id in (select w.plan from waiters w join work k on k.key = w.key where k.job = $1 and k.attempt = $2) and p.status = 'working'
			for no key update of p skip locked
		), moved as (
			update plans set share = $3, version = version + 1, updated = now() where id in (select id from looked) returning id
		), seen as (
			select g.id from class_groups g
			where g.id in (select w.class_group from class_waiters w join work k on k.key = w.key where k.job = $1 and k.attempt = $2) and g.status = 'working'
			for no key update of g skip locked
		), grouped as (
			update class_groups set share = $3 where id in (select id from seen)
		) select pg_notify($4, id::text || ' working') from moved`, job, attempt, share, planChannel)
	return err
}

// SetView gives a plan a view that it lacks.
func (q viewTable) SetView(ctx context.Context, id uuid.UUID, view []byte) error {
	return q.touch(ctx, "set a plan's view", `update plans set view = $2, version = version + 1 where id = $1`, id, view)
}

// PlanFilter picks plans of one client, or of AnyClient; its other fields pick
// all where they are zero.
type PlanFilter struct {
	Client          string
	Status          string
	ClientReference string
	Before          *Cursor // plans older than this
	Limit           int
}

// PlanViews lists plans, the newest first.
func (q viewTable) PlanViews(ctx context.Context, f PlanFilter) ([]PlanView, error) {
	created, id := f.Before.parts()
	return all[PlanView](ctx, q.on, "list plans", `
		select `+viewColumns+` from plans p
		where `+whose("p", f.Client)+`
			and ($2 = '' or p.status = $2)
			and ($3 = '' or p.client_reference = $3)
			and ($4::timestamptz is null or (p.created, p.id) < ($4, $5::uuid))
		order by p.created desc, p.id desc limit $6`,
		f.Client, f.Status, f.ClientReference, created, id, f.Limit)
}
