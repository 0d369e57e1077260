package queue_test

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// manyOf submits n plans of a client, each of a drawing of its own, for which nobody
// waits.
func manyOf(t *testing.T, q *queue.Queue, client string, n int) (plans []queue.Plan) {
	t.Helper()
	for i := range n {
		p, err := q.Submit(t.Context(), queue.SubmitParams{Client: client, File: fmt.Appendf(nil, "plain %s %d", client, i), Request: request(1)})
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, p)
	}
	return plans
}

// ready is how many plans of a client are ready.
func ready(t *testing.T, store *db.DB, client string) (n int) {
	t.Helper()
	if err := store.Pool.QueryRow(t.Context(), `select count(*) from plans where client = $1 and status = 'ready'`, client).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// Two clients who have more to do than the workers can get equal shares of them,
// within 20 %, though all of one came in before the other.
func TestClientsGetEqualShares(t *testing.T) {
	store := db.From(dbtest.New(t))
	f := &fakes{pause: 5 * time.Millisecond} // 35 ms and more a plan
	before := startOn(t, store, f.stages(), queue.Config{})
	const each = 40
	manyOf(t, before, "ann", each)
	manyOf(t, before, "bob", each)
	startOn(t, store, f.stages(), queue.Config{Batch: 2})
	await(t, "half of all plans", func() bool { return ready(t, store, "ann")+ready(t, store, "bob") >= each })
	ann, bob := ready(t, store, "ann"), ready(t, store, "bob")
	t.Logf("ann %d, bob %d", ann, bob)
	if 10*ann < 8*bob || 10*bob < 8*ann {
		t.Errorf("%d plans of the first and %d of the second", ann, bob)
	}
}

// The small plan of one who had nothing yet is the next to be admitted, whatever
// waits of others.
func TestNewcomerIsNext(t *testing.T) {
	f := &fakes{pause: 5 * time.Millisecond}
	q, store := start(t, f, queue.Config{Batch: 1})
	manyOf(t, q, "ann", 40)
	await(t, "some plans of the first", func() bool { return ready(t, store, "ann") >= 5 })
	p := manyOf(t, q, "bob", 1)[0]
	before := ready(t, store, "ann")
	settled(t, q, p)
	// One runs and two are in the queue by then, and one may be taken in meanwhile.
	if between := ready(t, store, "ann") - before; between > 4 {
		t.Errorf("%d plans of another were made first", between)
	}
}

// A heavy plan for which nobody waits ends, though small ones of clients who had
// nothing yet and who wait keep all workers busy: once it is older than patience.
func TestOldHeavyWorkEnds(t *testing.T) {
	f := &fakes{pause: time.Millisecond, cost: 5}
	store := db.From(dbtest.New(t))
	heavy := startOn(t, store, f.stages(), queue.Config{})
	old := manyOf(t, heavy, "old", 1)[0]
	small := &fakes{pause: 5 * time.Millisecond}
	q := startOn(t, store, small.stages(), queue.Config{Batch: 1, Interactive: 1})
	ctx, stop := context.WithCancel(t.Context())
	flood := make(chan struct{})
	go func() {
		defer close(flood)
		for i := 0; ctx.Err() == nil; i++ {
			_, _ = q.Submit(ctx, queue.SubmitParams{Client: fmt.Sprint("new ", i), File: fmt.Append(nil, "plain ", i), Request: request(1)})
			_, _ = store.Pool.Exec(ctx, `update work set awaited = true where client <> 'old'`)
		}
	}()
	defer func() { stop(); <-flood }()
	if _, err := store.Pool.Exec(t.Context(), `update work set due = due - interval '70 s' where client = 'old'`); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Pool.Exec(t.Context(), `update plans set since = since - interval '70 s' where client = 'old'`); err != nil {
		t.Fatal(err)
	}
	if p := settled(t, q, old); p.Status != plan.Ready {
		t.Errorf("%s", p.Status)
	}
}

// Two programs on one database never have more in the queue than both can take and
// the spare, and never run more heavy work than they have desks for.
func TestTwoProgramsAdmitNoMoreThanTheirSlots(t *testing.T) {
	store := db.From(dbtest.New(t))
	var most, heavy, heaviest atomic.Int64
	f := &fakes{pause: 2 * time.Millisecond, cost: 1, during: func(ctx context.Context, stage string) {
		var n int64
		if err := store.Pool.QueryRow(ctx, `select count(*) from river_job where state in ('available', 'running') and kind = 'compute_span'`).Scan(&n); err == nil {
			most.Store(max(most.Load(), n))
		}
		if stage == "weeding" {
			heaviest.Store(max(heaviest.Load(), heavy.Add(1)))
			time.Sleep(10 * time.Millisecond)
			heavy.Add(-1)
		}
	}}
	one := startOn(t, store, f.stages(), queue.Config{Batch: 2, Heavy: 1})
	two := startOn(t, store, f.stages(), queue.Config{Batch: 1, Heavy: 1})
	plans := append(manyOf(t, one, "ann", 20), manyOf(t, two, "bob", 20)...)
	for _, p := range plans {
		if p = settled(t, one, p); p.Status != plan.Ready {
			t.Errorf("%s is %s", p.ID, p.Status)
		}
	}
	t.Logf("at most %d in the queue, %d heavy", most.Load(), heaviest.Load())
	if n := most.Load(); n > 3+2 {
		t.Errorf("%d jobs in the queue, with 3 slots and 2 spare", n)
	}
	if n := heaviest.Load(); n > 2 {
		t.Errorf("%d heavy runs at a time, with a desk in each of two programs", n)
	}
	nothingLeft(t, store)
}

// Whoever dies between admitting and claiming, or before admitting, loses nothing:
// what is in the queue is run, and so is what only waits.
func TestNothingIsLostBeforeItIsClaimed(t *testing.T) {
	store := db.From(dbtest.New(t))
	before, first := put(t, store, "plain")
	second := manyOf(t, before, "bob", 1)[0] // there is no worker any more: it is not admitted
	var waits int
	if err := store.Pool.QueryRow(t.Context(), `select count(distinct job) from work where job < 0`).Scan(&waits); err != nil || waits != 1 {
		t.Fatalf("%d spans wait, %v", waits, err)
	}
	f := &fakes{}
	q := startOn(t, store, f.stages(), quick())
	for _, p := range []queue.Plan{first, second} {
		if p = settled(t, q, p); p.Status != plan.Ready {
			t.Errorf("%s", p.Status)
		}
	}
	if n := f.ran()["read"]; n != 2 {
		t.Errorf("read %d times", n)
	}
	nothingLeft(t, store)
}

// What nobody waits for any more goes behind, and comes forward again.
func TestWaitingIsSeen(t *testing.T) {
	store := db.From(dbtest.New(t))
	q := startOn(t, store, (&fakes{}).stages(), queue.Config{})
	p, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1), Queue: db.Interactive})
	if err != nil {
		t.Fatal(err)
	}
	awaited := func() (yes bool) {
		t.Helper()
		fair := db.Fairness{Fade: time.Second}
		if err := store.WeighSpans(t.Context(), fair); err != nil {
			t.Fatal(err)
		}
		if err := store.Pool.QueryRow(t.Context(), `select awaited from work where place = 0`).Scan(&yes); err != nil {
			t.Fatal(err)
		}
		return yes
	}
	if !awaited() {
		t.Error("somebody has just asked for it, and it is not waited for")
	}
	if _, err := store.Pool.Exec(t.Context(), `update plans set awaited = now() - interval '1 min'`); err != nil {
		t.Fatal(err)
	}
	if awaited() {
		t.Error("nobody waits any more, and it is waited for")
	}
	_, stop := q.Watch(p.ID)
	defer stop()
	await(t, "the process to note who waits", awaited)
}
