package db

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// one reads the only row of a query into a T by its db tags; ErrNotFound
// where there is none.
func one[T any](ctx context.Context, q on, what, sql string, args ...any) (T, error) {
	rows, err := q.conn.Query(ctx, sql, args...)
	if err != nil {
		var zero T
		return zero, wrap(what, err)
	}
	v, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[T])
	return v, wrap(what, err)
}

// all reads every row of a query into a T by its db tags.
func all[T any](ctx context.Context, q on, what, sql string, args ...any) ([]T, error) {
	rows, err := q.conn.Query(ctx, sql, args...)
	if err != nil {
		return nil, wrap(what, err)
	}
	v, err := pgx.CollectRows(rows, pgx.RowToStructByName[T])
	return v, wrap(what, err)
}

// column reads every row of a query that has one column.
func column[T any](ctx context.Context, q on, what, sql string, args ...any) ([]T, error) {
	rows, err := q.conn.Query(ctx, sql, args...)
	if err != nil {
		return nil, wrap(what, err)
	}
	v, err := pgx.CollectRows(rows, pgx.RowTo[T])
	return v, wrap(what, err)
}

// send runs the statements of a batch one after the other, on one way there and
// back; each sees what those before it have changed, as single statements do.
func (q on) send(ctx context.Context, what string, b *pgx.Batch) error {
	if t, ok := q.conn.(*behind); ok {
		return wrap(what, t.Tx.SendBatch(ctx, t.before(b)).Close())
	}
	return wrap(what, q.conn.SendBatch(ctx, b).Close())
}

// later runs a statement that has no answer. In a transaction it waits for the next one
// that has, and goes with it: what goes wrong is said there. check, where there is one,
// looks at how many rows were touched.
func (q on) later(ctx context.Context, what string, check func(rows int64) error, sql string, args ...any) error {
	if t, ok := q.conn.(*behind); ok {
		t.due = append(t.due, dueStatement{what, sql, args, check})
		return nil
	}
	n, err := q.exec(ctx, what, sql, args...)
	if err == nil && check != nil {
		err = wrap(what, check(n))
	}
	return err
}

// some is the check of a statement that has to touch a row.
func some(rows int64) error {
	if rows == 0 {
		return ErrNotFound
	}
	return nil
}

// into reads every row of a query of a batch into a list of Ts by their db tags.
func into[T any](list *[]T) func(pgx.Rows) error {
	return func(rows pgx.Rows) (err error) {
		*list, err = pgx.CollectRows(rows, pgx.RowToStructByName[T])
		return err
	}
}

// exec runs a statement and returns how many rows it touched.
func (q on) exec(ctx context.Context, what, sql string, args ...any) (int64, error) {
	tag, err := q.conn.Exec(ctx, sql, args...)
	return tag.RowsAffected(), wrap(what, err)
}

// touch runs a statement that has to touch a row; ErrNotFound where it does
// not.
func (q on) touch(ctx context.Context, what, sql string, args ...any) error {
	n, err := q.exec(ctx, what, sql, args...)
	if err == nil {
		err = wrap(what, some(n))
	}
	return err
}

// given returns a list that is not null for Postgres where it is empty.
func given[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
