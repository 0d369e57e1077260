package db

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// behind is a transaction that keeps statements back whose answer nobody waits for,
// and sends them with the next one that has an answer: one way there and back for all.
// They run in the order in which they were given, each sees what those before it have
// changed, and locks are taken in that order too. Where one fails, that next one does,
// or flush at the end of the transaction, which is undone either way.
type behind struct {
	pgx.Tx
	due []dueStatement
}

type dueStatement struct {
	what, sql string
	args      []any
	check     func(rows int64) error // of how many rows it touched; nil: any number is right
}

// run is the part of a batch that runs the statement.
func (s dueStatement) run(answers pgx.BatchResults) error {
	tag, err := answers.Exec()
	if err == nil && s.check != nil {
		err = s.check(tag.RowsAffected())
	}
	return wrap(s.what, err)
}

// before returns the statements of a batch behind those that are due. The batch has to
// be ended by Close, as send does.
func (t *behind) before(b *pgx.Batch) *pgx.Batch {
	if len(t.due) == 0 {
		return b
	}
	var whole pgx.Batch
	for _, s := range t.due {
		whole.Queue(s.sql, s.args...).Fn = s.run
	}
	t.due = nil
	whole.QueuedQueries = append(whole.QueuedQueries, b.QueuedQueries...)
	return &whole
}

// flush sends what is due.
func (t *behind) flush(ctx context.Context) error {
	if len(t.due) == 0 {
		return nil
	}
	return t.Tx.SendBatch(ctx, t.before(&pgx.Batch{})).Close()
}

// Query sends what is due and a query.
func (t *behind) Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error) {
	due := t.due
	if len(due) == 0 {
		return t.Tx.Query(ctx, sql, args...)
	}
	last := &pgx.Batch{}
	last.Queue(sql, args...)
	answers := t.Tx.SendBatch(ctx, t.before(last))
	for _, s := range due {
		if err := s.run(answers); err != nil {
			_ = answers.Close() // it fails by the same
			return nil, err
		}
	}
	rows, err := answers.Query()
	if err != nil {
		_ = answers.Close()
		return nil, err
	}
	return &lastRows{Rows: rows, answers: answers}, nil
}

// lastRows are those of the last query of a batch, which ends with them.
type lastRows struct {
	pgx.Rows
	answers pgx.BatchResults
	err     error
}

// Next ends the batch once there are no more rows.
func (r *lastRows) Next() bool {
	if r.Rows.Next() {
		return true
	}
	r.Close()
	return false
}

// Close ends the batch.
func (r *lastRows) Close() {
	r.Rows.Close()
	if err := r.answers.Close(); r.err == nil {
		r.err = err
	}
}

// Err is what the query, or the end of the batch, failed with.
func (r *lastRows) Err() error {
	if err := r.Rows.Err(); err != nil {
		return err
	}
	return r.err
}

// QueryRow sends what is due and a query for one row.
func (t *behind) QueryRow(ctx context.Context, sql string, args ...any) pgx.Row {
	if len(t.due) == 0 {
		return t.Tx.QueryRow(ctx, sql, args...)
	}
	rows, err := t.Query(ctx, sql, args...)
	return firstRow{rows, err}
}

// firstRow is the first of rows, if there are any.
type firstRow struct {
	rows pgx.Rows
	err  error
}

// Scan reads the row; pgx.ErrNoRows where there is none.
func (r firstRow) Scan(dest ...any) error {
	if r.err != nil {
		return r.err
	}
	defer r.rows.Close()
	if !r.rows.Next() {
		if err := r.rows.Err(); err != nil {
			return err
		}
		return pgx.ErrNoRows
	}
	if err := r.rows.Scan(dest...); err != nil {
		return err
	}
	r.rows.Close()
	return r.rows.Err()
}

// Exec sends what is due, and a statement behind it.
func (t *behind) Exec(ctx context.Context, sql string, args ...any) (pgconn.CommandTag, error) {
	if len(t.due) == 0 {
		return t.Tx.Exec(ctx, sql, args...)
	}
	rows, err := t.Query(ctx, sql, args...)
	if err != nil {
		return pgconn.CommandTag{}, err
	}
	rows.Close()
	return rows.CommandTag(), rows.Err()
}

// SendBatch sends what is due first, for those who read the answers of a batch one by one.
func (t *behind) SendBatch(ctx context.Context, b *pgx.Batch) pgx.BatchResults {
	if err := t.flush(ctx); err != nil {
		return pgx.FailedBatchResults(b, err)
	}
	return t.Tx.SendBatch(ctx, b)
}

// Begin sends what is due, and begins a part of the transaction.
func (t *behind) Begin(ctx context.Context) (pgx.Tx, error) {
	if err := t.flush(ctx); err != nil {
		return nil, err
	}
	return t.Tx.Begin(ctx)
}
