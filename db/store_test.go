package db_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
)

func addPlan(t *testing.T, store *db.DB, client, reference string) db.Plan {
	t.Helper()
	d, err := store.AddDrawing(t.Context(), client, "sign.dxf", []byte("0\nEOF\n"))
	if err != nil {
		t.Fatal(err)
	}
	id := uuid.New()
	err = store.AddPlan(t.Context(), db.Plan{
		ID: id, Client: client, Drawing: d.ID, Queue: db.Batch, ClientReference: reference,
		Status: "queued", Request: []byte(`{"copies": 3,  "turned":[4]}`), // spaces that jsonb would not keep
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := store.Plan(t.Context(), client, id)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestDrawingsShareTheirBytes(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	file := bytes.Repeat([]byte{0, 1, 255}, 1000)
	sum := sha256.Sum256(file)
	first, err := store.AddDrawing(ctx, "ann", "a.plt", file)
	if err != nil {
		t.Fatal(err)
	}
	second, err := store.AddDrawing(ctx, "ben", "b.plt", file)
	if err != nil {
		t.Fatal(err)
	}
	if first.ID == second.ID || !bytes.Equal(first.Hash, sum[:]) || first.Bytes != 3000 || second.Name != "b.plt" {
		t.Errorf("%+v, %+v", first, second)
	}
	if got, err := store.File(ctx, sum[:]); err != nil || !bytes.Equal(got, file) {
		t.Errorf("%d bytes, %v", len(got), err)
	}
	for n, want := range map[int]int{0: 0, 4: 4, 3000: 3000, 4096: 3000} {
		if head, err := store.FileHead(ctx, sum[:], n); err != nil || !bytes.Equal(head, file[:want]) {
			t.Errorf("of the first %d bytes came %d, %v", n, len(head), err)
		}
	}
	if _, err := store.FileHead(ctx, []byte("none"), 4); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("the head of no file: %v", err)
	}
	if _, err := store.Drawing(ctx, "ben", first.ID); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("another's drawing: %v", err)
	}
	var blobs int
	if err := store.Pool.QueryRow(ctx, `select count(*) from blobs`).Scan(&blobs); err != nil || blobs != 1 {
		t.Errorf("%d blobs, %v", blobs, err)
	}
}

func TestPlansAreListedPageByPage(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	var want []uuid.UUID
	for i := range 5 {
		want = append([]uuid.UUID{addPlan(t, store, "ann", fmt.Sprint("order ", i%2)).ID}, want...)
	}
	addPlan(t, store, "ben", "order 0")
	var got []uuid.UUID
	var before *db.Cursor
	for {
		page, err := store.PlanViews(ctx, db.PlanFilter{Client: "ann", Before: before, Limit: 2})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range page {
			got = append(got, p.ID)
			before = &db.Cursor{Created: p.Created, ID: p.ID}
		}
		if len(page) < 2 {
			break
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if err := store.SetStatus(ctx, want[0], "ready", "", nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		filter db.PlanFilter
		want   int
	}{
		{db.PlanFilter{Client: "ann", Status: "queued", Limit: 9}, 4},
		{db.PlanFilter{Client: "ann", Status: "ready", Limit: 9}, 1},
		{db.PlanFilter{Client: "ann", ClientReference: "order 1", Limit: 9}, 2},
		{db.PlanFilter{Client: "ben", Limit: 9}, 1},
		{db.PlanFilter{Client: "cat", Limit: 9}, 0},
	} {
		if page, err := store.PlanViews(ctx, c.filter); err != nil || len(page) != c.want {
			t.Errorf("%+v: %d plans, %v", c.filter, len(page), err)
		}
	}
}

func TestPlanComesBackAsItWasWritten(t *testing.T) {
	store := db.From(dbtest.New(t))
	p := addPlan(t, store, "ann", "")
	sum := sha256.Sum256([]byte("0\nEOF\n"))
	if p.Status != "queued" || p.Revision != 1 || !bytes.Equal(p.Hash, sum[:]) || p.Supersedes != nil {
		t.Errorf("%+v", p)
	}
	again, err := store.Plan(t.Context(), "ann", p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p, again); diff != "" {
		t.Error(diff)
	}
}

func TestResultStaysAsItWasFirst(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	first := []byte(`{"b": 1.10,  "a":"é\u0000"}`) // bytes that jsonb would not keep
	for i, body := range [][]byte{first, []byte(`{}`)} {
		head := db.Head{Key: "key", Stage: "read", Outcome: []byte(`{}`), Digest: []byte(`{"n": 1}`), Seconds: float64(i + 1)}
		err := store.AddResults(ctx, db.Result{Head: head, Codec: db.Zstd, Body: body},
			db.Result{Head: db.Head{Key: fmt.Sprint(i), Outcome: []byte(`{}`), Digest: []byte(`{}`)}, Body: body})
		if err != nil {
			t.Fatal(err)
		}
	}
	got, err := store.Result(ctx, "key")
	if err != nil || !bytes.Equal(got.Body, first) || got.Codec != db.Zstd || string(got.Digest) != `{"n": 1}` || got.Seconds != 1 {
		t.Errorf("%+v, %v", got, err)
	}
	if there, err := store.Results(ctx, "0", "1", "2"); err != nil || len(there) != 2 {
		t.Errorf("%d results, %v", len(there), err)
	}
	if _, err := store.Result(ctx, "none"); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("no result: %v", err)
	}
}

// Two transactions that lock two plans crosswise both get through.
func TestTransactionThatLostRunsAgain(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	a, b := addPlan(t, store, "ann", ""), addPlan(t, store, "ann", "")
	var tries atomic.Int32
	cross := func(first, second uuid.UUID) error {
		return store.InTx(ctx, func(tx db.Tx) error {
			tries.Add(1)
			if _, err := tx.LockPlan(ctx, first); err != nil {
				return err
			}
			time.Sleep(100 * time.Millisecond)
			return tx.SetStatus(ctx, second, "working", "", nil)
		})
	}
	other := make(chan error)
	go func() { other <- cross(a.ID, b.ID) }()
	if err := errors.Join(cross(b.ID, a.ID), <-other); err != nil {
		t.Error(err)
	}
	if tries.Load() < 3 {
		t.Errorf("%d tries: they did not meet", tries.Load())
	}
}

// A transaction that loses each time ends by an error that says so. One whose reference
// is broken each time is no such thing.
func TestTransactionThatLosesEachTime(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	tries := 0
	err := store.InTx(ctx, func(db.Tx) error { tries++; return db.ErrAgain })
	if !errors.Is(err, db.ErrBusy) || tries != 16 {
		t.Errorf("%v after %d tries", err, tries)
	}
	p := db.Plan{ID: uuid.New(), Client: "ann", Drawing: uuid.New(), Queue: db.Batch, Status: "queued", Request: []byte(`{}`)}
	if err := store.InTx(ctx, func(tx db.Tx) error { return tx.AddPlan(ctx, p, nil) }); err == nil || errors.Is(err, db.ErrBusy) {
		t.Errorf("a plan of no drawing: %v", err)
	}
}

func TestIdempotentRequests(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	claim := db.Claim{Client: "ann", Key: "k1", RequestHash: []byte("hash")}
	mine := func(c db.Claim, stale time.Duration) *db.Answered {
		t.Helper()
		first, err := store.ClaimRequest(ctx, c, stale)
		if err != nil {
			t.Fatal(err)
		}
		return first
	}
	if first := mine(claim, time.Hour); first != nil {
		t.Fatalf("the first is told of %+v", first)
	}
	if first := mine(claim, time.Hour); first == nil || first.Status != nil {
		t.Errorf("while the first is at it: %+v", first)
	}
	if first := mine(db.Claim{Client: "ben", Key: "k1", RequestHash: []byte("hash")}, time.Hour); first != nil {
		t.Error("another client's key is another key")
	}
	if err := store.ReleaseRequest(ctx, claim); err != nil {
		t.Fatal(err)
	}
	if first := mine(claim, time.Hour); first != nil {
		t.Errorf("after it was released: %+v", first)
	}
	if first := mine(claim, 0); first != nil {
		t.Errorf("after its process died: %+v", first)
	}
	headers := map[string]string{"Location": "/v1/plans/1"}
	if err := store.AnswerRequest(ctx, claim, 202, headers, []byte("{}")); err != nil {
		t.Fatal(err)
	}
	if err := store.AnswerRequest(ctx, claim, 200, nil, nil); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("answered a second time: %v", err)
	}
	status := 202
	want := &db.Answered{RequestHash: []byte("hash"), Status: &status, Headers: headers, Body: []byte("{}")}
	if diff := cmp.Diff(want, mine(claim, 0)); diff != "" {
		t.Error(diff)
	}
	if n, err := store.ForgetRequests(ctx, time.Now().Add(time.Hour)); err != nil || n != 2 {
		t.Errorf("%d forgotten, %v", n, err)
	}
}

func TestWhatARequestMadeIsFoundAgain(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	claim := db.Claim{Client: "ann", Key: "k1", RequestHash: []byte("hash")}
	if _, err := store.ClaimRequest(ctx, claim, time.Hour); err != nil {
		t.Fatal(err)
	}
	headers := map[string]string{"Location": "/v1/plans/1"}
	note := func() error {
		return store.InTx(ctx, func(tx db.Tx) error { return tx.NoteRequest(ctx, claim, headers) })
	}
	if err := note(); err != nil {
		t.Fatal(err)
	}
	if err := note(); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("noted twice: %v", err)
	}
	if err := store.ReleaseRequest(ctx, claim); err != nil {
		t.Fatal(err)
	}
	want := &db.Answered{RequestHash: []byte("hash"), Headers: headers}
	got, err := store.ClaimRequest(ctx, claim, 0)
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("after the process died: %v %s", err, diff)
	}
}

func TestListenHearsOfCommittedChanges(t *testing.T) {
	store := db.From(dbtest.New(t))
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	p := addPlan(t, store, "ann", "")
	type change struct {
		id     uuid.UUID
		status string
	}
	ready, heard, trimmed, ended := make(chan struct{}), make(chan change, 10), make(chan int64, 1), make(chan error)
	go func() {
		ended <- store.Listen(ctx, db.Changes{
			Ready: func() { close(ready) }, Plan: func(id uuid.UUID, status string) { heard <- change{id, status} },
			Trimmed: func(job int64) { trimmed <- job },
		})
	}()
	<-ready
	undone := store.InTx(ctx, func(tx db.Tx) error {
		return errors.Join(tx.SetStatus(ctx, p.ID, "failed", "x", nil), errors.New("undone"))
	})
	if undone == nil {
		t.Fatal("it was committed")
	}
	if err := store.SetStatus(ctx, p.ID, "working", "", nil); err != nil {
		t.Fatal(err)
	}
	if c := <-heard; c != (change{p.ID, "working"}) || len(heard) != 0 {
		t.Errorf("heard of %v and %d more", c, len(heard))
	}
	if err := store.TellTrimmed(ctx, 1<<40); err != nil {
		t.Fatal(err)
	}
	if job := <-trimmed; job != 1<<40 {
		t.Errorf("heard of job %d", job)
	}
	cancel()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("it ended with %v", err)
	}
}
