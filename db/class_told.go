package db

import (
	"context"

	"github.com/google/uuid"
)

// ClassStanding is how far a set is, as those who are told of it need it.
type ClassStanding struct {
	Laid     string `db:"laid"` // the keys of its current loads; empty: it has none
	Rests    bool   `db:"rests"`
	Ready    int    `db:"ready"`
	Members  int    `db:"members"`
	Expected int    `db:"expected"` // by its roster
	Missing  int    `db:"missing"`  // of those: nothing was received
}

// ClassStanding returns how far a set is.
func (q classTable) ClassStanding(ctx context.Context, set uuid.UUID) (ClassStanding, error) {
	return one[ClassStanding](ctx, q.on, "read how far a class set is", `
		select coalesce((select string_agg(array_to_string(g.keys, ' '), E'\n' order by g.place) from class_groups g
				where g.class_set = $1 and g.current), '') as laid,
			coalesce(bool_and(p.status not in ('queued', 'working')), true)
				and not exists (select from class_groups g where g.class_set = $1 and g.status = 'working') as rests,
			(count(*) filter (where p.status = 'ready'))::int as ready, count(*)::int as members,
			(select count(*) from class_roster r where r.class_set = $1)::int as expected,
			(select count(*) from class_roster r where r.class_set = $1 and not exists (
				select from class_members n where n.class_set = $1 and n.reference = r.reference))::int as missing
		from class_members m join plans p on p.id = m.plan where m.class_set = $1`, set)
}

// SetClassTold notes what was told of a set: ToldLaid, ToldComplete and ToldClosed.
func (q classTable) SetClassTold(ctx context.Context, s ClassSet) error {
	return q.touch(ctx, "note what was told of a class set",
		`update class_sets set told_laid = $2, told_complete = $3, told_closed = $4 where id = $1`, s.ID, s.ToldLaid, s.ToldComplete, s.ToldClosed)
}

// ClassSetsShut lists sets that take no drawings any more, which nobody was told yet.
func (q classTable) ClassSetsShut(ctx context.Context, limit int) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "find class sets that are shut",
		`select s.id from class_sets s where not s.told_closed and s.deadline <= now() order by s.deadline, s.id limit $1`, limit)
}

// AddClassDeliveries notes an event of a class set of owner for each receiver that is to
// be told of it, and returns their ids.
func (q webhookTable) AddClassDeliveries(ctx context.Context, set uuid.UUID, owner, event, payload string) ([]uuid.UUID, error) {
	return q.addDeliveries(ctx, nil, &set, owner, event, payload)
}
