package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// ClassSet is the drawings of one course that are to share stock.
type ClassSet struct {
	ID              uuid.UUID  `db:"id"`
	Client          string     `db:"client"`
	ClientReference string     `db:"client_reference"`
	Terms           []byte     `db:"terms"`    // JSON: what its members share, the session, the spares
	Deadline        *time.Time `db:"deadline"` // until when members are taken; nil: until it is closed
	Closed          *time.Time `db:"closed"`   // since when none is taken any more
	Shut            bool       `db:"shut"`     // it is closed or its deadline has passed
	Created         time.Time  `db:"created"`
	Updated         time.Time  `db:"updated"`

	// What was told of it to those who want to know.
	ToldLaid     string `db:"told_laid"` // the keys of its loads
	ToldComplete bool   `db:"told_complete"`
	ToldClosed   bool   `db:"told_closed"`
}

const classColumns = `s.id, s.client, s.client_reference, s.terms, s.deadline, s.closed,
	(s.closed is not null or coalesce(s.deadline <= now(), false)) as shut, s.created, s.updated,
	s.told_laid, s.told_complete, s.told_closed`

// AddClassSet keeps a new set. Of s it reads Client, ClientReference, Terms and
// Deadline.
func (q classTable) AddClassSet(ctx context.Context, s ClassSet) (ClassSet, error) {
	return one[ClassSet](ctx, q.on, "add a class set", `
		with s as (
			insert into class_sets (client, client_reference, terms, deadline) values ($1, $2, $3::text::json, $4) returning *
		) select `+classColumns+` from s`, s.Client, s.ClientReference, string(s.Terms), s.Deadline)
}

// ClassSet returns a set of client; ErrNotFound where it is another's.
func (q classTable) ClassSet(ctx context.Context, client string, id uuid.UUID) (ClassSet, error) {
	return one[ClassSet](ctx, q.on, "read a class set",
		`select `+classColumns+` from class_sets s where s.id = $1 and $2 in (s.client, '*')`, id, client)
}

// LockClassSet is ClassSet, and keeps others from changing the set until the
// transaction ends; rows that refer to it can still be added. Whether it is shut is
// told as of then.
func (q classTable) LockClassSet(ctx context.Context, client string, id uuid.UUID) (ClassSet, error) {
	if _, err := q.exec(ctx, "lock a class set", `select from class_sets where id = $1 for no key update`, id); err != nil {
		return ClassSet{}, err
	}
	return q.ClassSet(ctx, client, id)
}

// ChangeClassSet keeps what is changed of a set: Terms, Deadline and Closed.
func (q classTable) ChangeClassSet(ctx context.Context, s ClassSet) error {
	return q.touch(ctx, "change a class set",
		`update class_sets set terms = $2::text::json, deadline = $3, closed = $4, updated = now() where id = $1`,
		s.ID, string(s.Terms), s.Deadline, s.Closed)
}

// ClassHead is a set as it stands in a list.
type ClassHead struct {
	ClassSet
	Members int `db:"members"`
	Moving  int `db:"moving"` // members that are queued or worked on
	Ready   int `db:"ready"`
}

// ClassHeads lists the sets of client, or of AnyClient, the newest first.
func (q classTable) ClassHeads(ctx context.Context, client string, before *Cursor, limit int) ([]ClassHead, error) {
	at, id := before.parts()
	return all[ClassHead](ctx, q.on, "list class sets", `
		select `+classColumns+`, n.members, n.moving, n.ready
		from class_sets s cross join lateral (
			select count(*)::int as members, count(*) filter (where p.status in ('queued', 'working'))::int as moving,
				count(*) filter (where p.status = 'ready')::int as ready
			from class_members m join plans p on p.id = m.plan where m.class_set = s.id
		) n
		where `+whose("s", client)+` and ($2::timestamptz is null or (s.created, s.id) < ($2, $3::uuid))
		order by s.created desc, s.id desc limit $4`, client, at, id, limit)
}

// EraseClassSet removes a set with its roster. Its members' plans stay.
func (tx Tx) EraseClassSet(ctx context.Context, id uuid.UUID) error {
	if err := (on{tx.Raw}).touch(ctx, "erase a class set", `delete from class_sets where id = $1`, id); err != nil {
		return err
	}
	if err := tx.forgetJobs(ctx, id); err != nil {
		return err
	}
	if err := tx.forgetRequestsAbout(ctx, id); err != nil {
		return err
	}
	return tx.noteErased(ctx, ErasedClassSet, id)
}

// ErasableClassSets lists sets to be erased: with a reference those that bear it;
// with a time those in which nothing has changed since, and of which no plan moves
// or holds stock.
func (q classTable) ErasableClassSets(ctx context.Context, e Erasable) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "list class sets to erase", `
		select s.id from class_sets s
		where $1 in (s.client, '*') and ($2 = '' or s.client_reference = $2)
			and ($3::timestamptz is null or s.updated < $3 and not exists (
				select from class_members m join plans p on p.id = m.plan
				where m.class_set = s.id and (p.updated >= $3 or p.status in ('queued', 'working')
					or exists (select from acceptances a where a.plan = p.id and a.state in ('held', 'issued')))))
		order by s.created, s.id`, e.Client, e.Reference, given0(e.Before))
}
