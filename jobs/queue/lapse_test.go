package queue_test

import (
	"errors"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"

	"github.com/google/uuid"
)

// hold reserves a lot of 10 for a plan up to a time.
func hold(t *testing.T, store *db.DB, id uuid.UUID, until time.Time) {
	t.Helper()
	ctx := t.Context()
	err := store.InTx(ctx, func(tx db.Tx) error {
		a, err := tx.AddAcceptance(ctx, db.Acceptance{ID: uuid.New(), Plan: id, TotalText: "1 credit", PriceUntil: until, HeldUntil: until})
		if err != nil {
			return err
		}
		if _, err := tx.AddLot(ctx, db.Lot{Code: "K7M2", Kind: "sheets", Item: "card", Counted: true}); err != nil {
			return err
		}
		return errors.Join(
			tx.Post(ctx, db.Posting{ID: uuid.New(), Kind: "receipt"}, db.Movement{Kind: "receipt", Lot: "K7M2", Source: "outside", Target: "free", Amount: 10}),
			tx.Post(ctx, db.Posting{ID: uuid.New(), Kind: "reserve", Acceptance: &a.ID}, db.Movement{Kind: "reserve", Lot: "K7M2", Source: "free", Target: "reserved", Amount: 10}))
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A queue that works frees what was held up to now, and tells those who watch.
func TestReservationsLapse(t *testing.T) {
	cfg := quick()
	cfg.LapseEvery = 20 * time.Millisecond
	q, store := start(t, &fakes{}, cfg)
	p := submit(t, q, "ann", "a", request(1))
	changed, stop := q.Watch(p.ID)
	defer stop()
	hold(t, store, p.ID, time.Now().Add(50*time.Millisecond))
	for state := ledger.Held; state != ledger.Lapsed; {
		select {
		case <-changed:
		case <-time.After(20 * time.Second):
			t.Fatal("nothing lapsed")
		}
		v, err := q.View(t.Context(), "ann", p.ID)
		if err != nil {
			t.Fatal(err)
		}
		state = v.Acceptance.State
	}
	if lots, err := store.Lots(t.Context()); err != nil || lots[0].Free != 10 || lots[0].Reserved != 0 {
		t.Errorf("%+v, %v", lots, err)
	}
}

// An accepted plan stays as it is until its acceptance is given back.
func TestAcceptedPlanStays(t *testing.T) {
	q, store := start(t, &fakes{}, quick())
	p := submit(t, q, "ann", "ask", request(1))
	a4 := queue.Reply{Question: "size/known", Answer: "a4", Author: "ann"}
	if _, err := q.Answer(t.Context(), "ann", p.ID, a4); err != nil {
		t.Fatal(err)
	}
	if p = settled(t, q, p); p.Status != plan.Ready {
		t.Fatal(p.Status)
	}
	hold(t, store, p.ID, time.Now().Add(time.Hour))
	if _, err := q.Answer(t.Context(), "ann", p.ID, a4); !errors.Is(err, queue.ErrAccepted) {
		t.Errorf("answered: %v", err)
	}
	if _, err := q.TakeBack(t.Context(), "ann", p.ID, "size/known", "ann"); !errors.Is(err, queue.ErrAccepted) {
		t.Errorf("taken back: %v", err)
	}
	if err := ledger.Open(store).Free(t.Context(), "ann", p.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := q.Answer(t.Context(), "ann", p.ID, a4); err != nil {
		t.Error(err)
	}
}

// A plan is erased while it is worked on, cancelled and accepted at once: it is
// gone, nobody works for it any more, and nothing is held.
func TestErasing(t *testing.T) {
	q, store := start(t, &fakes{pause: 20 * time.Millisecond}, quick())
	book := ledger.Open(store)
	var all sync.WaitGroup
	for range 10 {
		p, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte(uuid.NewString()), Name: "a.svg", Request: request(1)})
		if err != nil {
			t.Fatal(err)
		}
		if err := q.Erase(t.Context(), "ben", p.ID); !errors.Is(err, db.ErrNotFound) {
			t.Errorf("another's plan: %v", err)
		}
		for _, do := range []func() error{
			func() error { return q.Erase(t.Context(), "ann", p.ID) },
			func() error { _, err := q.Cancel(t.Context(), "ann", p.ID); return err },
			func() error {
				_, _, err := book.Accept(t.Context(), "ann", p.ID, ledger.Booking{}, nil)
				return err
			},
		} {
			all.Go(func() {
				var refused *ledger.Refusal
				if err := do(); err != nil && !errors.Is(err, db.ErrNotFound) && !errors.As(err, &refused) {
					t.Error(err)
				}
			})
		}
	}
	all.Wait()
	for table, want := range map[string]int{"plans": 0, "waiters": 0, "work": 0, "acceptances": 0} {
		var n int
		if err := store.Pool.QueryRow(t.Context(), "select count(*) from "+table).Scan(&n); err != nil || n != want {
			t.Errorf("%d rows are left in %s, %v", n, table, err)
		}
	}
}
