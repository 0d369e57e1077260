package db_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
)

func fairness() db.Fairness {
	return db.Fairness{
		Lanes: [2]string{"interactive_spans", "batch_spans"}, Spare: 1,
		Fade: 30 * time.Second, Grain: 100 * time.Millisecond, Patience: time.Minute, Lease: 5 * time.Second,
	}
}

// backlog is a store with spans that wait.
type backlog struct {
	t     *testing.T
	store *db.DB
}

func (b backlog) run(sql string, args ...any) {
	b.t.Helper()
	if _, err := b.store.Pool.Exec(b.t.Context(), sql, args...); err != nil {
		b.t.Fatal(err)
	}
}

// span adds a span of a client, which bears its name.
func (b backlog) span(name, client string, cost float64, awaited bool, age time.Duration) {
	b.t.Helper()
	b.run(`insert into work (key, stage, revision, reads, needs, queue, job, client, cost, heavy, awaited, due)
		values ($1, $1, 1, '{}', '{}', 'batch', -nextval('spans'), $2, $3::float8, $3::float8 > 0.2, $4, now() - make_interval(secs => $5) + make_interval(secs => $3::float8))`,
		name, client, cost, awaited, age.Seconds())
}

// runs adds a job of the queue that runs for a client.
func (b backlog) runs(client string, cost float64) {
	b.t.Helper()
	b.run(`with j as (
			insert into river_job (args, kind, max_attempts, queue, state, attempted_at, attempt) values ('{}', 'compute_span', 25, 'batch_spans', 'running', now(), 1) returning id
		) insert into work (key, stage, revision, reads, needs, queue, job, client, cost, heavy, attempt)
		select 'of ' || id, 'x', 1, '{}', '{}', 'batch', id, $1, $2::float8, $2::float8 > 0.2, 1 from j`, client, cost)
}

func (b backlog) had(client string, seconds float64, ago time.Duration) {
	b.t.Helper()
	b.run(`insert into used (client, seconds, at) values ($1, $2, now() - make_interval(secs => $3))`, client, seconds, ago.Seconds())
}

// next is the name of the span that is admitted next, "" for none.
func (b backlog) next(passed ...int64) string {
	b.t.Helper()
	var name string
	err := b.store.InTx(b.t.Context(), func(tx db.Tx) error {
		next, err := tx.NextSpan(b.t.Context(), fairness(), passed)
		if len(next) > 0 {
			name = next[0].Stage
		}
		return err
	})
	if err != nil {
		b.t.Fatal(err)
	}
	return name
}

// Whose turn it is: each rule of jobs/queue/admit.go alone, beside what it outweighs.
// The numbers are common practice, no source.
func TestWhoIsAdmittedNext(t *testing.T) {
	const s = time.Second
	b := backlog{t, db.From(dbtest.New(t))}
	for _, c := range []struct {
		name string
		set  func(b backlog)
		want string
	}{
		{"nothing waits", func(backlog) {}, ""},
		{"the older", func(b backlog) { b.span("new", "ann", 0, true, s); b.span("old", "ann", 0, true, 2*s) }, "old"},
		{"of two clients the older", func(b backlog) { b.span("new", "ann", 0, true, s); b.span("old", "bob", 0, true, 2*s) }, "old"},
		{"who is waited for", func(b backlog) { b.span("old", "ann", 0, false, 50*s); b.span("new", "bob", 0, true, s) }, "new"},
		{"who is waited for, though that client had more", func(b backlog) {
			b.span("old", "ann", 0, false, 50*s)
			b.span("new", "bob", 0, true, s)
			b.had("bob", 20, 0)
		}, "new"},
		{"patience", func(b backlog) { b.span("old", "ann", 0, false, 61*s); b.span("new", "ann", 0, true, s) }, "old"},
		{"who had less", func(b backlog) {
			b.span("old", "ann", 0, true, 50*s)
			b.span("new", "bob", 0, true, s)
			b.had("ann", 3, 0)
			b.had("bob", 2, 0)
		}, "new"},
		{"who had less by no more than the grain is no other", func(b backlog) {
			b.span("old", "ann", 0, true, 50*s)
			b.span("new", "bob", 0, true, s)
			b.had("ann", 0.08, 0)
		}, "old"},
		{"what was had long ago", func(b backlog) {
			b.span("old", "ann", 0, true, 50*s)
			b.span("new", "bob", 0, true, s)
			b.had("ann", 60, 300*s) // 60 s fade to 3 ms
		}, "old"},
		{"what runs counts", func(b backlog) {
			b.span("old", "ann", 0, true, 50*s)
			b.span("new", "bob", 0, true, s)
			b.runs("ann", 0.15)
		}, "new"},
		{"what costs much is as if younger", func(b backlog) { b.span("large", "ann", 9, true, 10*s); b.span("small", "ann", 0, true, 2*s) }, "small"},
		{"no cost outweighs age for ever", func(b backlog) { b.span("large", "ann", 9, true, 12*s); b.span("small", "ann", 0, true, 2*s) }, "large"},
		{"the heavy wait for a desk", func(b backlog) {
			b.span("large", "ann", 9, true, 50*s)
			b.span("small", "bob", 0, true, s)
			b.had("bob", 30, 0)
			b.runs("cyd", 0.3)
		}, "small"},
		{"two run and one waits for a worker", func(b backlog) {
			b.span("new", "ann", 0, true, s)
			b.runs("ann", 0)
			b.runs("ann", 0)
			b.runs("ann", 0)
		}, ""},
		{"a slot is free", func(b backlog) { b.span("new", "ann", 0, true, s); b.runs("ann", 0); b.runs("ann", 0) }, "new"},
		{"what waits for its next attempt takes no slot", func(b backlog) {
			b.span("new", "ann", 0, true, s)
			b.runs("ann", 0)
			b.runs("ann", 0)
			b.runs("ann", 0)
			b.run(`update river_job set state = 'retryable' where id = (select max(id) from river_job)`)
		}, "new"},
		{"nobody works", func(b backlog) {
			b.span("new", "ann", 0, true, s)
			b.run(`update workers set beat = now() - interval '6 s'`)
		}, ""},
		{"nobody works on this queue", func(b backlog) { b.span("new", "ann", 0, true, s); b.run(`update workers set batch = 0`) }, ""},
	} {
		b.run(`truncate work, used, workers, river_job cascade`)
		if err := b.store.Beat(t.Context(), db.Worker{ID: "w", Interactive: 2, Batch: 2, Heavy: 1}); err != nil {
			t.Fatal(err)
		}
		c.set(b)
		if got := b.next(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What a client had fades, and adds up.
func TestCharging(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	b.had("ann", 10, 30*time.Second)
	if err := b.store.Charge(t.Context(), fairness(), "ann", 2); err != nil {
		t.Fatal(err)
	}
	var had float64
	if err := b.store.Pool.QueryRow(t.Context(), `select seconds from used where client = 'ann'`).Scan(&had); err != nil {
		t.Fatal(err)
	}
	if want := 10/2.718281828 + 2; had < want-0.1 || had > want {
		t.Errorf("%.3f s, want %.3f", had, want)
	}
}

// A span that another transaction is at is not taken, and is passed over.
func TestSpansInUseArePassedOver(t *testing.T) {
	ctx := context.Background()
	b := backlog{t, db.From(dbtest.New(t))}
	if err := b.store.Beat(ctx, db.Worker{ID: "w", Batch: 1}); err != nil {
		t.Fatal(err)
	}
	b.span("first", "ann", 0, true, time.Minute)
	b.span("second", "ann", 0, true, time.Second)
	err := b.store.InTx(ctx, func(busy db.Tx) error {
		if err := busy.LockKeys(ctx, "first"); err != nil {
			return err
		}
		return b.store.InTx(ctx, func(tx db.Tx) error {
			next, err := tx.NextSpan(ctx, fairness(), nil)
			if err != nil || len(next) != 1 || !next[0].More {
				return fmt.Errorf("%+v, %w", next, err)
			}
			if free, err := tx.TakeSpan(ctx, next[0].Job); err != nil || free {
				t.Errorf("%s: taken %v, %v", next[0].Stage, free, err)
			}
			other, err := tx.NextSpan(ctx, fairness(), []int64{next[0].Job})
			if err != nil || len(other) != 1 || other[0].Stage != "second" {
				t.Errorf("%+v, %v", other, err)
			}
			free, err := tx.TakeSpan(ctx, other[0].Job)
			if !free {
				t.Error("nobody is at it, and it is not taken")
			}
			return err
		})
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A large backlog costs little to look through: 5,000 spans of 50 clients, which is
// as many as the service takes in. The bound is that of a transaction that a person
// does not notice; common practice, no source.
func TestLargeBacklogIsLookedThroughSoon(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	if err := b.store.Beat(t.Context(), db.Worker{ID: "w", Batch: 2}); err != nil {
		t.Fatal(err)
	}
	b.run(`insert into work (key, stage, revision, reads, needs, queue, job, client, due, place)
		select n || '/' || p, 's' || n, 1, '{}', '{}', 'batch', -n, 'client ' || n % 50, now() - make_interval(secs => n), p
		from generate_series(1, 5000) n, generate_series(0, 4) p`)
	b.run(`analyze work`)
	best := time.Hour
	for range 5 {
		began := time.Now()
		if got := b.next(); got != "s5000" {
			t.Fatalf("%q is next", got)
		}
		best = min(best, time.Since(began))
	}
	t.Logf("%.1f ms", best.Seconds()*1000)
	if best > 40*time.Millisecond {
		t.Errorf("%v to look through 5000 spans", best)
	}
}
