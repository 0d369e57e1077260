package db

import (
	"context"
	"errors"
	"time"

	"github.com/google/uuid"
)

// ErrInUse: something else still stands on what was to be erased.
var ErrInUse = errors.New("still in use")

// EraseDrawing removes a drawing of client with its name, and its bytes where
// no other drawing shares them. It returns the SHA-256 of bytes that are gone,
// nil where they stay. ErrInUse while a plan was made from it.
func (tx Tx) EraseDrawing(ctx context.Context, client string, id uuid.UUID) ([]byte, error) {
	gone, err := column[[]byte](ctx, on{tx.Raw}, "erase a drawing", `
		delete from drawings d where d.id = $1 and $2 in (d.client, '*')
			and not exists (select from plans p where p.drawing = d.id)
		returning d.hash`, id, client)
	if err != nil {
		return nil, err
	}
	if len(gone) == 0 {
		if _, err := tx.Drawing(ctx, client, id); err != nil {
			return nil, err
		}
		return nil, wrap("erase a drawing", ErrInUse)
	}
	if err := errors.Join(tx.forgetRequestsAbout(ctx, id), tx.noteErased(ctx, ErasedDrawing, id)); err != nil {
		return nil, err
	}
	n, err := on{tx.Raw}.exec(ctx, "erase a file",
		`delete from blobs b where b.hash = $1 and not exists (select from drawings d where d.hash = b.hash)`, gone[0])
	if err != nil || n == 0 {
		return nil, err
	}
	return gone[0], nil
}

// EraseDrawing is Tx.EraseDrawing in a transaction of its own.
func (d *DB) EraseDrawing(ctx context.Context, client string, id uuid.UUID) error {
	return d.InTx(ctx, func(tx Tx) error {
		_, err := tx.EraseDrawing(ctx, client, id)
		return err
	})
}

// ErasePlan removes a plan with its request, answers and stages, and what is
// kept of requests and jobs of the queue that are about it. It returns the keys
// of the results that the plan has, had before its answers were changed, or was to
// have; these stay. Its acceptances have to be forgotten first.
func (tx Tx) ErasePlan(ctx context.Context, id uuid.UUID) (keys []string, err error) {
	q := on{tx.Raw}
	keys, err = column[string](ctx, q, "read the keys of a plan", `
		select key from plan_stages where plan = $1 and key is not null union select key from former_keys where plan = $1`, id)
	if err != nil {
		return nil, err
	}
	if err := q.touch(ctx, "erase a plan", `delete from plans where id = $1`, id); err != nil {
		return nil, err
	}
	if err := errors.Join(tx.forgetRequestsAbout(ctx, id), tx.noteErased(ctx, ErasedPlan, id)); err != nil {
		return nil, err
	}
	return keys, tx.forgetJobs(ctx, id)
}

// forgetRequestsAbout removes the kept answers that tell of a plan or a drawing.
func (tx Tx) forgetRequestsAbout(ctx context.Context, id uuid.UUID) error {
	_, err := on{tx.Raw}.exec(ctx, "forget what was answered", `
		delete from idempotency where strpos(coalesce(headers ->> 'Location', ''), $1::text) > 0
			or position(convert_to($1::text, 'UTF8') in coalesce(body, '')) > 0`, id.String())
	return err
}

// EraseResults removes those of the results under keys that no plan and no group of a class set reaches. A
// plan that takes one at this moment keeps it: its transaction holds the row, and
// is seen by the second statement once it has ended.
func (tx Tx) EraseResults(ctx context.Context, keys ...string) (int64, error) {
	q := on{tx.Raw}
	held, err := column[string](ctx, q, "hold results", `select key from results where key = any($1) order by key for update`, keys)
	if err != nil || len(held) == 0 {
		return 0, err
	}
	return q.exec(ctx, "erase results", `
		delete from results r where r.key = any($1) and not exists (select from plan_stages s where s.key = r.key)
			and not exists (select from class_groups g where g.keys @> array[r.key])`, held)
}

// Erasable picks what is to be erased of clients.
type Erasable struct {
	Client    string    // or AnyClient
	Reference string    // of plans; empty: any
	Before    time.Time // what has not changed since; zero: at any time
}

// ErasablePlans lists plans to be erased. With a time only those that are settled
// and hold no stock, and are not in a class set: they go with that.
func (q planTable) ErasablePlans(ctx context.Context, e Erasable) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "list plans to erase", `
		select p.id from plans p
		where $1 in (p.client, '*') and ($2 = '' or p.client_reference = $2)
			and ($3::timestamptz is null or p.updated < $3 and p.status in ('ready', 'refused', 'failed', 'cancelled', 'asking')
				and not exists (select from acceptances a where a.plan = p.id and a.state in ('held', 'issued'))
				and not exists (select from class_members m where m.plan = p.id))
		order by p.created, p.id`, e.Client, e.Reference, given0(e.Before))
}

// ErasableDrawings lists drawings to be erased: those that no plan stands on but
// for the plans given.
func (q drawingTable) ErasableDrawings(ctx context.Context, e Erasable, but []uuid.UUID) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "list drawings to erase", `
		select d.id from drawings d
		where $1 in (d.client, '*') and ($2::timestamptz is null or d.created < $2)
			and ($4 = '' or exists (select from plans p where p.drawing = d.id and p.id = any($3)))
			and not exists (select from plans p where p.drawing = d.id and p.id <> all($3))
		order by d.created, d.id`, e.Client, given0(e.Before), but, e.Reference)
}

// PlansOfDrawing lists the plans that were made from a drawing of client.
func (q planTable) PlansOfDrawing(ctx context.Context, client string, drawing uuid.UUID) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "list the plans of a drawing",
		`select p.id from plans p where p.drawing = $2 and $1 in (p.client, '*') order by p.id`, client, drawing)
}

// Unreached lists keys of results that no plan reaches, of at least an age: what
// is younger may be about to be.
func (q resultTable) Unreached(ctx context.Context, age time.Duration, limit int) ([]string, error) {
	return column[string](ctx, q.on, "list results that nothing reaches", `
		select r.key from results r
		where r.created < now() - make_interval(secs => $1) and not exists (select from plan_stages s where s.key = r.key)
			and not exists (select from class_groups g where g.keys @> array[r.key])
		order by r.key limit $2`, age.Seconds(), limit)
}

// FileHashes lists the SHA-256 of all files.
func (q drawingTable) FileHashes(ctx context.Context) ([][]byte, error) {
	return column[[]byte](ctx, q.on, "list the files", `select hash from blobs`)
}

// given0 is nil, which is null for Postgres, for the zero time.
func given0(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}
