package db_test

import (
	"context"
	"errors"
	"io"
	"net"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"knifedesk/db"
	"knifedesk/db/dbtest"
)

// relay stands between a pool and its Postgres, and breaks all connections off when it is
// told to, as a server that dies does.
type relay struct {
	mu   sync.Mutex
	open []net.Conn
}

// dial connects through the relay.
func (r *relay) dial(ctx context.Context, network, address string) (net.Conn, error) {
	to, err := (&net.Dialer{}).DialContext(ctx, network, address)
	if err != nil {
		return nil, err
	}
	ours, theirs := net.Pipe()
	r.mu.Lock()
	r.open = append(r.open, theirs, to)
	r.mu.Unlock()
	go func() { _, _ = io.Copy(to, theirs) }()
	go func() { _, _ = io.Copy(theirs, to) }()
	return ours, nil
}

func (r *relay) breakOff() {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, c := range r.open {
		c.Close()
	}
	r.open = nil
}

// A connection that breaks off in the middle of whatever is being asked is an outage.
func TestConnectionsThatBreakOff(t *testing.T) {
	cfg := dbtest.New(t).Config()
	var r relay
	cfg.ConnConfig.DialFunc = r.dial
	pool, err := pgxpool.NewWithConfig(t.Context(), cfg)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	store, ctx := db.From(pool), t.Context()
	const long = `select pg_sleep(30)`
	inTx := func(do func(tx db.Tx) error) func() error { return func() error { return store.InTx(ctx, do) } }
	for name, ask := range map[string]func() error{
		"a statement": func() error { _, err := pool.Exec(ctx, long); return err },
		"a row":       func() error { var x any; return pool.QueryRow(ctx, long).Scan(&x) },
		"rows": func() error {
			rows, err := pool.Query(ctx, `select pg_sleep(10) from generate_series(1, 3)`)
			if err != nil {
				return err
			}
			_, err = pgx.CollectRows(rows, pgx.RowTo[any])
			return err
		},
		"a batch": func() error {
			var b pgx.Batch
			b.Queue(`select 1`)
			b.Queue(long)
			return pool.SendBatch(ctx, &b).Close()
		},
		"a statement of a transaction": inTx(func(tx db.Tx) error { _, err := tx.Raw.Exec(ctx, long); return err }),
		"a statement behind others": inTx(func(tx db.Tx) error {
			_, err := tx.Raw.Exec(ctx, long)
			return errors.Join(tx.EndWork(ctx, "none"), err)
		}),
		"what was kept back": inTx(func(tx db.Tx) error {
			_, err := tx.Raw.Exec(ctx, `create or replace function wait() returns trigger language plpgsql as 'begin perform pg_sleep(30); return null; end';
				create trigger wait before delete on work execute function wait()`)
			return errors.Join(err, tx.EndWork(ctx, "none"))
		}),
		"the end of a transaction": inTx(func(tx db.Tx) error {
			_, err := tx.Raw.Exec(ctx, `create or replace function wait() returns trigger language plpgsql as 'begin perform pg_sleep(30); return null; end';
				create constraint trigger wait after insert on workers deferrable initially deferred for each row execute function wait()`)
			return errors.Join(err, tx.Beat(ctx, db.Worker{ID: "w"}))
		}),
	} {
		t.Run(name, func(t *testing.T) {
			failed := make(chan error, 1)
			go func() { failed <- ask() }()
			time.Sleep(300 * time.Millisecond)
			r.breakOff()
			select {
			case err := <-failed:
				if !db.Outage(err) {
					t.Errorf("%v (%T) is no outage", err, err)
				}
			case <-time.After(10 * time.Second):
				t.Fatal("it goes on")
			}
		})
	}
}
