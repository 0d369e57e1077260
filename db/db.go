// Package db keeps drawings, plans, results and the workshop's data in
// Postgres. It holds all SQL, one file a table, and no rules of the business.
//
// Queries run on the pool or, through InTx, in one transaction:
//
//	err := store.InTx(ctx, func(tx db.Tx) error {
//		p, err := tx.LockPlan(ctx, id)
//		…
//	})
package db

import (
	"context"
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
)

// DB is the store.
type DB struct {
	Pool *pgxpool.Pool
	Queries
}

// Conn is what queries run on: a pool, a connection or a transaction.
type Conn interface {
	Exec(ctx context.Context, sql string, args ...any) (pgconn.CommandTag, error)
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
	QueryRow(ctx context.Context, sql string, args ...any) pgx.Row
	SendBatch(ctx context.Context, b *pgx.Batch) pgx.BatchResults
}

// Queries are the statements on one Conn, by the tables that they are about.
type Queries struct {
	drawingTable
	planTable
	viewTable
	stageTable
	resultTable
	workTable
	admissionTable
	replyTable
	claimTable
	documentTables
	ledgerTable
	acceptanceTable
	erasureTable
	workerTable
	keyTable
	webhookTable
	classTable
	groupTable
	trialTables
	riverTables
	channels
}

// The tables, each with its statements in a file of its own.
type (
	drawingTable    struct{ on }
	planTable       struct{ on }
	viewTable       struct{ on }
	stageTable      struct{ on }
	resultTable     struct{ on }
	workTable       struct{ on }
	admissionTable  struct{ on }
	replyTable      struct{ on }
	claimTable      struct{ on }
	documentTables  struct{ on }
	ledgerTable     struct{ on }
	acceptanceTable struct{ on }
	erasureTable    struct{ on }
	workerTable     struct{ on }
	keyTable        struct{ on }
	webhookTable    struct{ on }
	classTable      struct{ on }
	groupTable      struct{ on }
	trialTables     struct{ on }
	riverTables     struct{ on }
	channels        struct{ on }
)

// on is what statements run on.
type on struct{ conn Conn }

func queriesOn(conn Conn) Queries {
	q := on{conn}
	return Queries{
		drawingTable{q}, planTable{q}, viewTable{q}, stageTable{q}, resultTable{q}, workTable{q}, admissionTable{q},
		replyTable{q}, claimTable{q}, documentTables{q}, ledgerTable{q}, acceptanceTable{q}, erasureTable{q}, workerTable{q}, keyTable{q}, webhookTable{q}, classTable{q}, groupTable{q}, trialTables{q}, riverTables{q}, channels{q},
	}
}

// Tx is a transaction. Raw is for libraries that take one, such as the queue.
type Tx struct {
	Raw pgx.Tx
	Queries
}

// connections is the size of a pool whose connection string does not say. The
// queue and the listeners hold a few for themselves.
const connections = 20

// Open connects to the Postgres that url names. It does not migrate.
func Open(ctx context.Context, url string) (*DB, error) {
	cfg, err := poolConfig(url)
	if err != nil {
		return nil, fmt.Errorf("db: %w", err)
	}
	pool, err := pgxpool.NewWithConfig(ctx, cfg)
	if err != nil {
		return nil, fmt.Errorf("db: %w", err)
	}
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, fmt.Errorf("db: %w", err)
	}
	return From(pool), nil
}

// poolConfig reads a connection string. A pool of an unsaid size is as large as
// connections says, whatever the machine has for processors.
func poolConfig(url string) (*pgxpool.Config, error) {
	said, err := pgx.ParseConfig(url)
	if err != nil {
		return nil, err
	}
	cfg, err := pgxpool.ParseConfig(url) // which takes the pool's own settings out
	if err != nil {
		return nil, err
	}
	if _, sized := said.RuntimeParams["pool_max_conns"]; !sized {
		cfg.MaxConns = connections
	}
	// All statements find rows by their keys, whatever the keys are: to plan each
	// anew would cost as much as to run it.
	cfg.ConnConfig.RuntimeParams["plan_cache_mode"] = "force_generic_plan"
	// What the queue's library notes by itself may be lost in a crash of Postgres:
	// it is found out and done again. InTx waits until all is on the disk.
	cfg.ConnConfig.RuntimeParams["synchronous_commit"] = "off"
	return cfg, nil
}

// From returns the store on a pool.
func From(pool *pgxpool.Pool) *DB {
	return &DB{Pool: pool, Queries: queriesOn(pool)}
}

// Close closes the pool.
func (d *DB) Close() { d.Pool.Close() }

// connect opens a connection beside the pool, for what must not wait for one.
func (d *DB) connect(ctx context.Context) (*pgx.Conn, error) {
	return pgx.ConnectConfig(ctx, d.Pool.Config().ConnConfig)
}

// tries bounds how often a transaction that lost to another is run again, with pauses that
// grow to a sixth of a second: many answer one plan at once, on a machine that is busy.
const tries = 16

// InTx runs do in a transaction, which is committed to the disk where do returns
// nil. Where Postgres ends it in favour of another transaction (see
// lostToAnother), or do returns ErrAgain, it is run again: it must not change
// anything outside the transaction; ErrBusy where it loses each time. What a statement
// without an answer fails with may come out later than its call (see behind).
func (d *DB) InTx(ctx context.Context, do func(Tx) error) error {
	return d.inTx(ctx, pgx.TxOptions{BeginQuery: "begin; set local synchronous_commit = on"}, do)
}

// InLooseTx is InTx for changes that do no harm where they are lost in a crash
// of Postgres: it does not wait until they are on the disk.
func (d *DB) InLooseTx(ctx context.Context, do func(Tx) error) error {
	return d.inTx(ctx, pgx.TxOptions{BeginQuery: "begin; set local synchronous_commit = off"}, do)
}

func (d *DB) inTx(ctx context.Context, how pgx.TxOptions, do func(Tx) error) error {
	for try := 1; ; try++ {
		err := pgx.BeginTxFunc(ctx, d.Pool, how, func(begun pgx.Tx) error {
			tx := &behind{Tx: begun}
			if err := do(Tx{Raw: tx, Queries: queriesOn(tx)}); err != nil {
				return err
			}
			return tx.flush(ctx)
		})
		switch {
		case err == nil || !lostToAnother(err):
			return classify(err)
		case try == tries && crowded(err):
			return fmt.Errorf("db: %w, %d times: %w", ErrBusy, tries, err)
		case try == tries:
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(rand.N(time.Duration(try) * 10 * time.Millisecond)):
		}
	}
}
