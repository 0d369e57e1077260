package db

import (
	"context"

	"github.com/google/uuid"
)

// ClassGroup is members of a class set that lie on common loads.
type ClassGroup struct {
	ID      uuid.UUID `db:"id"`
	Set     uuid.UUID `db:"class_set"`
	Place   int       `db:"place"`   // in the order of what their members have in common
	Current bool      `db:"current"` // else it is kept for loads that were handed out
	Request []byte    `db:"request"` // JSON: what their members have in common
	Keys    []string  `db:"keys"`    // of its results, in the order of the jobs
	Status  string    `db:"status"`  // working, ready, failed
	Failure string    `db:"failure"` // a stable code where it failed
	Digest  []byte    `db:"digest"`  // JSON: what callers read of it, nil until it is ready
	Share   *float64  `db:"share"`   // of the job that is worked on, from 0 to 1; nil: it does not say
}

const groupColumns = `g.id, g.class_set, g.place, g.current, g.request, g.keys, g.status, g.failure, g.digest, g.share`

// ClassPart is what one member has on the loads of a group.
type ClassPart struct {
	Group     uuid.UUID `db:"class_group"`
	Code      int       `db:"code"`
	Reference string    `db:"reference"`
	Plan      uuid.UUID `db:"plan"`
	Map       string    `db:"map"` // the key of its weeding map
	Copies    int       `db:"copies"`
}

// AddClassGroup keeps a new group. Of g it reads Set, Place, Request, Keys and Status.
func (q groupTable) AddClassGroup(ctx context.Context, g ClassGroup, parts []ClassPart) (ClassGroup, error) {
	added, err := one[ClassGroup](ctx, q.on, "add a group of a class set", `
		with g as (
			insert into class_groups (class_set, place, request, keys, status) values ($1, $2, $3::text::json, $4, $5) returning *
		) select `+groupColumns+` from g`, g.Set, g.Place, string(g.Request), g.Keys, g.Status)
	if err != nil {
		return added, err
	}
	n := len(parts)
	codes, references, plans, maps, copies := make([]int, n), make([]string, n), make([]uuid.UUID, n), make([]string, n), make([]int, n)
	for i, p := range parts {
		codes[i], references[i], plans[i], maps[i], copies[i] = p.Code, p.Reference, p.Plan, p.Map, p.Copies
	}
	_, err = q.exec(ctx, "add the parts of a group", `
		insert into class_parts (class_group, code, reference, plan, map, copies)
		select $1, * from unnest($2::int[], $3::text[], $4::uuid[], $5::text[], $6::int[])`, added.ID, codes, references, plans, maps, copies)
	return added, err
}

// ClassGroups lists the groups of a set by place, those that are kept before the
// current one.
func (q groupTable) ClassGroups(ctx context.Context, set uuid.UUID) ([]ClassGroup, error) {
	return all[ClassGroup](ctx, q.on, "list the groups of a class set",
		`select `+groupColumns+` from class_groups g where g.class_set = $1 order by g.place, g.current, g.created, g.id`, set)
}

// ClassParts lists what lies on the loads of the groups of a set.
func (q groupTable) ClassParts(ctx context.Context, set uuid.UUID) ([]ClassPart, error) {
	return all[ClassPart](ctx, q.on, "list the parts of a class set", `
		select p.class_group, p.code, p.reference, p.plan, p.map, p.copies
		from class_parts p join class_groups g on g.id = p.class_group where g.class_set = $1 order by p.class_group, p.code`, set)
}

// ClassGroupsOf lists the groups on whose loads a plan lies.
func (q groupTable) ClassGroupsOf(ctx context.Context, plan uuid.UUID) ([]ClassGroup, error) {
	return all[ClassGroup](ctx, q.on, "list the groups of a plan", `
		select `+groupColumns+` from class_groups g where g.id in (select p.class_group from class_parts p where p.plan = $1) order by g.id`, plan)
}

// SetClassGroup notes how a group stands. How far its job has come is to be told anew.
func (q groupTable) SetClassGroup(ctx context.Context, g ClassGroup) error {
	return q.touch(ctx, "note how a group stands",
		`update class_groups set place = $2, current = $3, status = $4, failure = $5, digest = $6, share = null where id = $1`,
		g.ID, g.Place, g.Current, g.Status, g.Failure, text(g.Digest))
}

// DropClassGroup removes a group with its parts, its loads and its waiting.
func (q groupTable) DropClassGroup(ctx context.Context, id uuid.UUID) error {
	return q.touch(ctx, "drop a group", `delete from class_groups where id = $1`, id)
}

// text is JSON as a parameter, nil for null.
func text(json []byte) *string {
	if json == nil {
		return nil
	}
	s := string(json)
	return &s
}

// GroupWaitFor has a group wait for key.
func (q groupTable) GroupWaitFor(ctx context.Context, id uuid.UUID, key string) error {
	_, err := q.exec(ctx, "have a group wait", `insert into class_waiters (class_group, key) values ($1, $2) on conflict do nothing`, id, key)
	return err
}

// GroupWaitsFor returns what a group waits for, by key.
func (q groupTable) GroupWaitsFor(ctx context.Context, id uuid.UUID) ([]Waited, error) {
	return all[Waited](ctx, q.on, "read what a group waits for", `
		select w.key, k.job from class_waiters w join work k on k.key = w.key where w.class_group = $1 order by w.key`, id)
}

// IdleGroups lists sets with a group that should move and waits for nothing, and
// that nobody is to look at.
func (q groupTable) IdleGroups(ctx context.Context, limit int) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "find idle groups", `
		select distinct g.class_set from class_groups g
		where g.status = 'working' and not exists (select from class_waiters w where w.class_group = g.id)
			and not exists (select from class_looks l where l.class_set = g.class_set)
		limit $1`, limit)
}

// EmptyClassGroup takes a plan off a group that is kept, and its results from it.
func (q groupTable) EmptyClassGroup(ctx context.Context, id, plan uuid.UUID) error {
	if _, err := q.exec(ctx, "take a plan off a group", `delete from class_parts where class_group = $1 and plan = $2`, id, plan); err != nil {
		return err
	}
	return q.touch(ctx, "empty a group", `update class_groups set keys = '{}' where id = $1`, id)
}

// ClassLaid says whether the loads of a set are as they will stay while no member
// changes: it was looked at and no group waits.
func (q groupTable) ClassLaid(ctx context.Context, set uuid.UUID) (laid bool, err error) {
	err = q.conn.QueryRow(ctx, `
		select not exists (select from class_groups g where g.class_set = $1 and g.status = 'working')
			and not exists (select from class_looks l where l.class_set = $1)`, set).Scan(&laid)
	return laid, wrap("look whether the loads of a class set are laid", err)
}
