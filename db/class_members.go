package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// ClassMember is one drawing of a class set: the newest plan of its reference.
type ClassMember struct {
	Set       uuid.UUID `db:"class_set"`
	Reference string    `db:"reference"`
	Code      int       `db:"code"` // what its work is marked with; 0: not decided yet
	Plan      uuid.UUID `db:"plan"`
	Received  time.Time `db:"received"`
}

const memberColumns = `m.class_set, m.reference, m.code, m.plan, m.received`

// ClassMembers lists the members of a set by reference, in the order of bytes.
func (q classTable) ClassMembers(ctx context.Context, set uuid.UUID) ([]ClassMember, error) {
	return all[ClassMember](ctx, q.on, "list the members of a class set",
		`select `+memberColumns+` from class_members m where m.class_set = $1 order by m.reference collate "C"`, set)
}

// PutClassMember makes a plan the member of its reference, in the place of the
// one before.
func (q classTable) PutClassMember(ctx context.Context, m ClassMember) error {
	return q.touch(ctx, "put a member into a class set", `
		insert into class_members (class_set, reference, plan) values ($1, $2, $3)
		on conflict (class_set, reference) do update set plan = excluded.plan, received = now()`, m.Set, m.Reference, m.Plan)
}

// DropClassMember takes a member out of a set. Its plan stays.
func (q classTable) DropClassMember(ctx context.Context, set uuid.UUID, reference string) error {
	return q.touch(ctx, "take a member out of a class set",
		`delete from class_members where class_set = $1 and reference = $2`, set, reference)
}

// TouchClassSet notes that members of a set have changed.
func (q classTable) TouchClassSet(ctx context.Context, set uuid.UUID) error {
	return q.touch(ctx, "touch a class set", `update class_sets set updated = now() where id = $1`, set)
}

// ClassMoves says whether something of a set is still to be worked out: a member is
// queued or worked on, a group waits, or the set has not been looked at since one of
// them came to rest.
func (q classTable) ClassMoves(ctx context.Context, set uuid.UUID) (moves bool, err error) {
	err = q.conn.QueryRow(ctx, `
		select exists (select from class_members m join plans p on p.id = m.plan
				where m.class_set = $1 and p.status in ('queued', 'working'))
			or exists (select from class_groups g where g.class_set = $1 and g.status = 'working')
			or exists (select from class_looks l where l.class_set = $1)`, set).Scan(&moves)
	return moves, wrap("look whether a class set moves", err)
}

// ClassPlan is a member of a set with what callers read of its plan.
type ClassPlan struct {
	Reference string    `db:"reference"`
	Code      int       `db:"code"`
	Received  time.Time `db:"received"`
	PlanView
}

// ClassPlans lists the members of a set with their plans, by reference in the order
// of bytes.
func (q classTable) ClassPlans(ctx context.Context, set uuid.UUID) ([]ClassPlan, error) {
	return all[ClassPlan](ctx, q.on, "read the plans of a class set", `
		select m.reference, m.code, m.received, `+viewColumns+` from class_members m join plans p on p.id = m.plan
		where m.class_set = $1 order by m.reference collate "C"`, set)
}

// ClassHistory lists the plans of the members of a set, and those that they supersede,
// the oldest first: where these are erased in that order, and it ends halfway, the rest
// is still reached.
func (q classTable) ClassHistory(ctx context.Context, set uuid.UUID) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "list the plans of a class set", `
		with recursive made as (
			select m.plan as id from class_members m where m.class_set = $1
			union select p.supersedes from made join plans p on p.id = made.id where p.supersedes is not null
		) select id from made join plans p using (id) order by p.created, id`, set)
}

// ClassRoster lists the references that are expected, in the order of bytes.
func (q classTable) ClassRoster(ctx context.Context, set uuid.UUID) ([]string, error) {
	return column[string](ctx, q.on, "read the roster of a class set",
		`select reference from class_roster where class_set = $1 order by reference collate "C"`, set)
}

// SetClassRoster replaces the references that are expected.
func (q classTable) SetClassRoster(ctx context.Context, set uuid.UUID, references []string) error {
	if _, err := q.exec(ctx, "clear the roster of a class set", `delete from class_roster where class_set = $1`, set); err != nil {
		return err
	}
	_, err := q.exec(ctx, "set the roster of a class set",
		`insert into class_roster (class_set, reference) select $1, unnest($2::text[])`, set, given(references))
	return err
}

// ForgetReference takes a reference off the rosters of a client, or of AnyClient,
// with the kept answers to requests that name it there.
func (tx Tx) ForgetReference(ctx context.Context, client, reference string) error {
	sets, err := column[uuid.UUID](ctx, on{tx.Raw}, "take a reference off the rosters", `
		delete from class_roster r using class_sets s
		where s.id = r.class_set and $1 in (s.client, '*') and r.reference = $2 returning s.id`, client, reference)
	if err != nil {
		return err
	}
	for _, id := range sets {
		if err := tx.forgetRequestsAbout(ctx, id); err != nil {
			return err
		}
	}
	return nil
}

// ClassSharer is a member of a set with its plan and the key of one of its results.
type ClassSharer struct {
	Reference string `db:"reference"`
	Code      int    `db:"code"`
	Map       string `db:"map"` // "" where the plan has no such result
	Plan
}

// ClassSharers lists the members of a set by reference, in the order of bytes, with
// the keys of their results of a stage.
func (q classTable) ClassSharers(ctx context.Context, set uuid.UUID, stage string) ([]ClassSharer, error) {
	return all[ClassSharer](ctx, q.on, "read who shares loads", `
		select m.reference, m.code, coalesce((select s.key from plan_stages s where s.plan = p.id and s.stage = $2), '') as map, `+planColumns+`
		from class_members m join plans p on p.id = m.plan where m.class_set = $1 order by m.reference collate "C"`, set, stage)
}
