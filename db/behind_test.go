package db_test

import (
	"context"
	"errors"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"knifedesk/db"
	"knifedesk/db/dbtest"
)

// What is kept back has been done, in its order, for whatever is asked next, in each way
// of asking, and at the end of the transaction.
func TestStatementsKeptBackComeBeforeTheNext(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	p := addPlan(t, store, "ann", "")
	const count = `select count(*) from plan_stages where plan = $1`
	ask := map[string]func(tx db.Tx) (int, error){
		"rows": func(tx db.Tx) (int, error) {
			stages, err := tx.Stages(ctx, p.ID)
			return len(stages), err
		},
		"a row": func(tx db.Tx) (n int, err error) {
			return n, tx.Raw.QueryRow(ctx, count, p.ID).Scan(&n)
		},
		"a count": func(tx db.Tx) (int, error) {
			tag, err := tx.Raw.Exec(ctx, `update plan_stages set reused = true where plan = $1`, p.ID)
			return int(tag.RowsAffected()), err
		},
		"a batch": func(tx db.Tx) (n int, err error) {
			var b pgx.Batch
			b.Queue(count, p.ID)
			answers := tx.Raw.SendBatch(ctx, &b)
			return n, errors.Join(answers.QueryRow().Scan(&n), answers.Close())
		},
		"a part of the transaction": func(tx db.Tx) (n int, err error) {
			part, err := tx.Raw.Begin(ctx)
			if err != nil {
				return 0, err
			}
			return n, errors.Join(part.QueryRow(ctx, count, p.ID).Scan(&n), part.Commit(ctx))
		},
		"nothing": func(db.Tx) (int, error) { return 2, nil },
	}
	for name, asked := range ask {
		t.Run(name, func(t *testing.T) {
			err := store.InTx(ctx, func(tx db.Tx) error {
				err := errors.Join(tx.ClearStages(ctx, p.ID), // of the case before
					tx.AddStages(ctx, p.ID, []db.PlanStage{{Stage: "a", Key: "1", State: "waiting"}}),
					tx.ClearStages(ctx, p.ID), // or the next would have three
					tx.AddStages(ctx, p.ID, []db.PlanStage{{Stage: "a", Key: "1", State: "waiting"}, {Stage: "b", Key: "2", State: "waiting"}}))
				if n, errAsked := asked(tx); n != 2 || errAsked != nil {
					t.Errorf("%d stages, %v", n, errAsked)
				}
				return err
			})
			if err != nil {
				t.Error(err)
			}
			if stages, err := store.Stages(ctx, p.ID); len(stages) != 2 || err != nil {
				t.Errorf("%d stages afterwards, %v", len(stages), err)
			}
		})
	}
}

// A statement that was kept back and fails, or touches nothing where it should, ends the
// transaction by the error that it would have ended it by at once.
func TestStatementsKeptBackThatFail(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	var p db.Plan
	next := map[string]func(tx db.Tx) error{
		"rows":    func(tx db.Tx) error { _, err := tx.Stages(ctx, p.ID); return err },
		"a row":   func(tx db.Tx) error { var n int; return tx.Raw.QueryRow(ctx, `select 1`).Scan(&n) },
		"a count": func(tx db.Tx) error { _, err := tx.Raw.Exec(ctx, `select 1`); return err },
		"a batch": func(tx db.Tx) error { _, err := tx.LockSpan(ctx, 1); return err },
		"a batch of others": func(tx db.Tx) error {
			var b pgx.Batch
			b.Queue(`select 1`)
			return tx.Raw.SendBatch(ctx, &b).Close()
		},
		"a part of the transaction": func(tx db.Tx) error { _, err := tx.Raw.Begin(ctx); return err },
		"nothing":                   nil,
	}
	tries := 0
	faults := map[string]struct {
		do   func(tx db.Tx) error
		want error
	}{
		"touches nothing": {func(tx db.Tx) error { return tx.SetStatus(ctx, uuid.New(), "ready", "", nil) }, db.ErrNotFound},
		"lost once": {func(tx db.Tx) error {
			if tries++; tries > 1 {
				return nil
			}
			return tx.Admit(ctx, -1, 1)
		}, nil},
		"no text": {func(tx db.Tx) error { return tx.SetStatus(ctx, p.ID, "ready", "\x00", nil) }, db.ErrText},
	}
	for of, f := range faults {
		for name, ask := range next {
			t.Run(of+", then "+name, func(t *testing.T) {
				tries, p = 0, addPlan(t, store, "ann", "")
				err := store.InTx(ctx, func(tx db.Tx) error {
					if err := errors.Join(tx.SetStatus(ctx, p.ID, "working", "", nil), f.do(tx)); err != nil {
						t.Errorf("said at once: %v", err)
					}
					if ask == nil || f.want == nil && tries > 1 {
						return nil
					}
					err := ask(tx)
					if err == nil {
						t.Error("what comes next is answered")
					}
					return err
				})
				if !errors.Is(err, f.want) || f.want == nil && tries != 2 {
					t.Errorf("%v after %d tries, want %v", err, tries, f.want)
				}
				if now, err := store.Plan(context.WithoutCancel(ctx), "ann", p.ID); err != nil || f.want != nil && now.Status != "queued" {
					t.Errorf("%s, %v: something was kept", now.Status, err)
				}
			})
		}
	}
}
