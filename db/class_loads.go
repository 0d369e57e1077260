package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// ClassLoad is a load of a class set that was handed out.
type ClassLoad struct {
	Set    uuid.UUID  `db:"class_set"`
	Number int        `db:"number"` // in the set
	Group  uuid.UUID  `db:"class_group"`
	Load   int        `db:"load"` // of the group, from 1
	Issued time.Time  `db:"issued"`
	Done   *time.Time `db:"done"` // nil: not yet
}

// ClassLoads lists the loads of a set that were handed out, by number.
func (q groupTable) ClassLoads(ctx context.Context, set uuid.UUID) ([]ClassLoad, error) {
	return all[ClassLoad](ctx, q.on, "list the loads of a class set",
		`select class_set, number, class_group, load, issued, done from class_loads where class_set = $1 order by number`, set)
}

// AddClassLoad notes that a load was handed out.
func (q groupTable) AddClassLoad(ctx context.Context, l ClassLoad) error {
	return q.touch(ctx, "hand a load out",
		`insert into class_loads (class_set, number, class_group, load) values ($1, $2, $3, $4)`, l.Set, l.Number, l.Group, l.Load)
}

// EndClassLoad notes that a load is done.
func (q groupTable) EndClassLoad(ctx context.Context, set uuid.UUID, number int) error {
	return q.touch(ctx, "note that a load is done",
		`update class_loads set done = coalesce(done, now()) where class_set = $1 and number = $2`, set, number)
}

// SetClassCodes decides what the work of members is marked with.
func (q groupTable) SetClassCodes(ctx context.Context, set uuid.UUID, references []string, codes []int) error {
	_, err := q.exec(ctx, "mark the members of a class set", `
		update class_members m set code = n.code from unnest($2::text[], $3::int[]) n (reference, code)
		where m.class_set = $1 and m.reference = n.reference and m.code <> n.code`, set, references, codes)
	return err
}

// SetsOf lists the class sets that a plan is in, by id.
func (q groupTable) SetsOf(ctx context.Context, plan uuid.UUID) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "find the class set of a plan", `
		select class_set from class_members where plan = $1
		union select g.class_set from class_parts p join class_groups g on g.id = p.class_group where p.plan = $1
		order by class_set`, plan)
}

// LookAtClass notes that a set has to be looked at.
func (q groupTable) LookAtClass(ctx context.Context, set uuid.UUID) error {
	_, err := q.exec(ctx, "note a set to look at", `insert into class_looks (class_set) values ($1)`, set)
	return err
}

// Looked notes that a set is looked at now: what was noted before this moment.
func (q groupTable) Looked(ctx context.Context, set uuid.UUID) error {
	_, err := q.exec(ctx, "look at a set", `delete from class_looks where class_set = $1`, set)
	return err
}
