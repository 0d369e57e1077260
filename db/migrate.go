package db

import (
	"context"
	"errors"
	"fmt"

	"knifedesk/db/migrations"

	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivermigrate"
)

// migrating is the advisory lock under which one process migrates at a time.
const migrating = 0x6b6e6966655f6462

// Migrate brings the schema and the queue's own tables up to date. It puts no
// data in. Processes that start together wait for each other.
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
	return d.endOldJobs(ctx)
}
