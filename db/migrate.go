package db

import (
	"context"
	"errors"
	"fmt"

	"knifedesk/db/migrations"
	"knifedesk/jobs/workshop"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivermigrate"
)

// migrating is the advisory lock under which one process migrates at a time.
const migrating = 0x6b6e6966655f6462

// Migrate brings the schema and the queue's own tables up to date and, in a
// new database, puts the starter data of a workshop in. Processes that start
// together wait for each other.
func (d *DB) Migrate(ctx context.Context) error {
	conn, err := d.Pool.Acquire(ctx)
	if err != nil {
		return wrap("migrate", err)
	}
	defer conn.Release()
	if _, err := conn.Exec(ctx, "select pg_advisory_lock($1)", int64(migrating)); err != nil {
		return wrap("migrate", err)
	}
	err = errors.Join(d.migrateOurs(ctx), d.migrateQueue(ctx))
	if err == nil {
		err = d.Seed(ctx, workshop.Starter())
	}
	_, unlockErr := conn.Exec(context.WithoutCancel(ctx), "select pg_advisory_unlock($1)", int64(migrating))
	return errors.Join(err, wrap("migrate", unlockErr))
}

func (d *DB) migrateOurs(ctx context.Context) error {
	std := stdlib.OpenDBFromPool(d.Pool)
	defer std.Close()
	steps, err := goose.NewProvider(goose.DialectPostgres, std, migrations.Files)
	if err != nil {
		return fmt.Errorf("db: migrate: %w", err)
	}
	if _, err := steps.Up(ctx); err != nil {
		return fmt.Errorf("db: migrate: %w", err)
	}
	return nil
}

func (d *DB) migrateQueue(ctx context.Context) error {
	queue, err := rivermigrate.New(riverpgxv5.New(d.Pool), nil)
	if err != nil {
		return fmt.Errorf("db: migrate the queue: %w", err)
	}
	if _, err := queue.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil {
		return fmt.Errorf("db: migrate the queue: %w", err)
	}
	return nil
}

// Seed puts a workshop's data into the tables that are empty.
func (d *DB) Seed(ctx context.Context, data workshop.Data) error {
	return d.InTx(ctx, func(tx Tx) error {
		return errors.Join(
			seed(ctx, tx.Stocks(), data.Stocks, func(s workshop.Stock) string { return s.ID }),
			seed(ctx, tx.Machines(), data.Machines, func(m workshop.Machine) string { return m.ID }),
			seed(ctx, tx.Settings(), data.Settings, func(s workshop.Setting) string { return s.ID }),
			seed(ctx, tx.Conventions(), data.Conventions, func(c workshop.Convention) string { return c.ID }),
			seed(ctx, tx.PriceLists(), data.PriceLists, func(p workshop.PriceList) string { return p.ID }),
			seed(ctx, tx.Sheets(), data.Sheets, func(n workshop.NamedSize) string { return n.Name }),
		)
	})
}

func seed[T any](ctx context.Context, shelf Shelf[T], docs []T, id func(T) string) error {
	var any bool
	row := shelf.q.conn.QueryRow(ctx, "select exists (select from "+pgx.Identifier{shelf.table}.Sanitize()+")")
	if err := row.Scan(&any); err != nil || any {
		return wrap("seed "+shelf.table, err)
	}
	for _, doc := range docs {
		if _, err := shelf.Put(ctx, id(doc), 0, doc); err != nil {
			return err
		}
	}
	return nil
}
