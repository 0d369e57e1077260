package queue_test

import (
	"context"
	"io"
	"sync"
	"syscall"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"

	"go.uber.org/goleak"
)

type lockedWriter struct {
	mu sync.Mutex
	w  io.Writer
}

func (w *lockedWriter) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.w.Write(p)
}

// put submits a plan through a process that has no workers, and has it admitted to
// the queue for a worker that leaves before it takes anything.
func put(t *testing.T, store *db.DB, file string) (*queue.Queue, queue.Plan) {
	t.Helper()
	q := startOn(t, store, (&fakes{}).stages(), queue.Config{})
	if err := store.Beat(t.Context(), db.Worker{ID: "leaves", Interactive: 1, Batch: 1, Heavy: 1}); err != nil {
		t.Fatal(err)
	}
	p, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte(file), Request: request(1)})
	if err != nil {
		t.Fatal(err)
	}
	if err := store.Leave(t.Context(), "leaves"); err != nil {
		t.Fatal(err)
	}
	var admitted int
	if err := store.Pool.QueryRow(t.Context(), `select count(*) from river_job`).Scan(&admitted); err != nil || admitted != 1 {
		t.Fatalf("%d jobs in the queue, %v", admitted, err)
	}
	return q, p
}

// working waits until a job of a plan is being worked on.
func working(t *testing.T, store *db.DB, p queue.Plan, stage string) {
	t.Helper()
	await(t, stage+" to be worked on", func() bool {
		stages, err := store.Stages(t.Context(), p.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range stages {
			if s.Stage == stage && s.State == "working" {
				return true
			}
		}
		return false
	})
}

func TestJobsOfAKilledWorkerComeBackSoon(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	_, p := put(t, store, "plain")
	dying := play(t, partHang, dbtest.URL(pool))
	working(t, store, p, "weeding")

	f := &fakes{}
	q := startOn(t, store, f.stages(), quick())
	time.Sleep(2 * quick().Lease)
	if runs := f.ran(); len(runs) != 0 {
		t.Fatalf("another worker took the job of a live one: %v", runs)
	}
	kill(dying)
	killed := time.Now()
	p = settled(t, q, p)
	t.Logf("ready %v after the kill, with a lease of %v", time.Since(killed).Round(time.Millisecond), quick().Lease)
	if time.Since(killed) > 10*time.Second {
		t.Error("the job did not come back within seconds")
	}
	matchesLocal(t, store, p, (&fakes{}).stages(), "plain")
	if runs := f.ran(); runs["artwork"] != 0 || runs["weeding"] != 1 {
		t.Errorf("runs after the kill: %v", runs)
	}
	nothingLeft(t, store)
}

// unhurried has a lease so long that a worker on a busy machine is not taken
// for dead by mistake.
func unhurried() queue.Config {
	cfg := quick()
	cfg.Lease = 4 * time.Second
	return cfg
}

// A worker that was only held up for longer than its lease comes back to work
// that is another's by now.
func TestWorkerTakenForDeadIsTurnedAway(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	_, p := put(t, store, "plain")
	held := play(t, partSlow, dbtest.URL(pool))
	working(t, store, p, "weeding")
	if err := held.Process.Signal(syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
	goOn := make(chan struct{})
	f := &fakes{during: func(_ context.Context, stage string) {
		if stage == "weeding" {
			<-goOn
		}
	}}
	q := startOn(t, store, f.stages(), unhurried())
	await(t, "another worker", func() bool { return f.sofar("weeding") == 1 })
	if err := held.Process.Signal(syscall.SIGCONT); err != nil {
		t.Fatal(err)
	}
	time.Sleep(1500 * time.Millisecond) // its job ends, and it reports
	if stages, err := store.PlanResults(t.Context(), p.ID, "weeding"); err != nil || len(stages) != 0 {
		t.Errorf("the result of the one taken for dead was taken in: %v", err)
	}
	close(goOn)
	p = settled(t, q, p)
	matchesLocal(t, store, p, (&fakes{}).stages(), "plain")
	nothingLeft(t, store)
}

// A worker that was held up between fetching a job and claiming its work does
// not take the work from the later attempt that has it by now.
func TestLateClaimTakesNothing(t *testing.T) {
	store := db.From(dbtest.New(t))
	_, p := put(t, store, "plain")
	exec := func(sql string) {
		t.Helper()
		if _, err := store.Pool.Exec(t.Context(), sql); err != nil {
			t.Fatal(err)
		}
	}
	held, err := store.Pool.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = held.Rollback(context.WithoutCancel(t.Context())) }()
	if _, err := held.Exec(t.Context(), `select pg_advisory_xact_lock(hashtextextended(key, 0)) from work`); err != nil {
		t.Fatal(err)
	}
	f := &fakes{}
	q := startOn(t, store, f.stages(), quick())
	attempt := func(table string) (n int) {
		if err := store.Pool.QueryRow(t.Context(), `select coalesce(max(attempt), 0) from `+table).Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	await(t, "the job to be fetched", func() bool { return attempt("river_job") == 1 })
	exec(`update river_job set attempt = 2`)
	exec(`update work set attempt = 2, started = now()`)
	if err := held.Commit(t.Context()); err != nil {
		t.Fatal(err)
	}
	time.Sleep(300 * time.Millisecond) // time enough to claim
	if n := attempt("work"); n != 2 || f.sofar("read") != 0 {
		t.Errorf("attempt %d has the work, and the stage ran %d times", n, f.sofar("read"))
	}
	exec(`update river_job set attempt = 1`) // the later one is gone: the work is found without a job
	if p = settled(t, q, p); p.Status != plan.Ready {
		t.Errorf("status %s", p.Status)
	}
	nothingLeft(t, store)
}

func TestStageThatKillsItsWorkerFailsThePlan(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	q, p := put(t, store, "plain")
	for range 5 {
		_ = play(t, partPoison, dbtest.URL(pool)).Wait() // it says that it was killed
	}
	f := &fakes{}
	startOn(t, store, f.stages(), quick())
	p = settled(t, q, p)
	if p.Status != plan.Failed || p.Failure != queue.FailureWorker {
		t.Errorf("status %s %q", p.Status, p.Failure)
	}
	nothingLeft(t, store)
}

func TestWorkWithoutAJobIsStartedAnew(t *testing.T) {
	for _, lost := range []string{
		`delete from river_job`,
		`update river_job set state = 'discarded', finalized_at = now()`,
	} {
		store := db.From(dbtest.New(t))
		_, p := put(t, store, "plain")
		if _, err := store.Pool.Exec(t.Context(), lost); err != nil {
			t.Fatal(err)
		}
		q := startOn(t, store, (&fakes{}).stages(), quick())
		if p = settled(t, q, p); p.Status != plan.Ready {
			t.Errorf("%s: %s", lost, p.Status)
		}
		nothingLeft(t, store)
	}
}

func TestWorkForErasedPlansIsDropped(t *testing.T) {
	store := db.From(dbtest.New(t))
	put(t, store, "plain")
	if _, err := store.Pool.Exec(t.Context(), `delete from plans`); err != nil {
		t.Fatal(err)
	}
	f := &fakes{}
	startOn(t, store, f.stages(), quick())
	nothingLeft(t, store)
	if runs := f.ran(); len(runs) != 0 {
		t.Errorf("runs for nobody: %v", runs)
	}
}

func TestStopLeavesNothingRunning(t *testing.T) {
	pool := dbtest.New(t)
	leaks := goleak.IgnoreCurrent()
	store, err := db.Open(t.Context(), dbtest.URL(pool))
	if err != nil {
		t.Fatal(err)
	}
	q, err := queue.New(store, (&fakes{}).stages(), quick())
	if err != nil {
		t.Fatal(err)
	}
	if err := q.Start(t.Context()); err != nil {
		t.Fatal(err)
	}
	submit(t, q, "ann", "plain", request(1))
	if err := q.Stop(t.Context()); err != nil {
		t.Fatal(err)
	}
	var workers int
	if err := store.Pool.QueryRow(t.Context(), `select count(*) from workers`).Scan(&workers); err != nil || workers != 0 {
		t.Errorf("%d workers signed on after the stop, %v", workers, err)
	}
	store.Close()
	goleak.VerifyNone(t, leaks)
}
