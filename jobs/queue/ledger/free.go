package ledger

import (
	"context"
	"errors"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/stores"

	"github.com/google/uuid"
)

// Free gives back what is held for a plan; a plan of which nothing is held stays
// as it is. It fails with a *Refusal once the stock was handed out.
func (b Book) Free(ctx context.Context, client string, id uuid.UUID) error {
	return b.locked(ctx, client, id, func(tx db.Tx, _ db.Plan) error {
		a, err := Of(ctx, tx.Queries, id)
		switch {
		case err != nil || a == nil || a.State == Freed || a.State == Lapsed:
			return err
		case a.State != Held:
			return &Refusal{AlreadyOut}
		}
		return release(ctx, tx, a, postRelease, Freed)
	})
}

// release ends an acceptance that is held, and frees what was reserved for it.
func release(ctx context.Context, tx db.Tx, a *Acceptance, kind string, state State) error {
	codes, moves := make([]string, len(a.Holding)), make([]db.Movement, len(a.Holding))
	for i, h := range a.Holding {
		codes[i] = h.Lot
		moves[i] = db.Movement{Kind: postRelease, Lot: h.Lot, Source: reserved, Target: free, Amount: h.Reserved}
	}
	if _, err := tx.LockLots(ctx, codes...); err != nil {
		return err
	}
	if err := tx.Post(ctx, db.Posting{ID: uuid.New(), Kind: kind, Acceptance: &a.ID, CostCode: a.CostCode}, moves...); err != nil {
		return err
	}
	ended := a.Acceptance
	ended.State = string(state)
	return tx.SetAcceptance(ctx, ended)
}

// Forget gives back what is held for a plan that is to be erased, which the caller
// has locked, and removes what names it. The amounts stay in the ledger. It fails
// with a *Refusal while the stock is handed out and nobody has said what became of
// it.
func Forget(ctx context.Context, tx db.Tx, plan uuid.UUID) error {
	a, err := Of(ctx, tx.Queries, plan)
	switch {
	case err != nil || a == nil:
		return err
	case a.State == Issued:
		return &Refusal{AlreadyOut}
	case a.State == Held:
		if err := release(ctx, tx, a, postRelease, Freed); err != nil {
			return err
		}
	}
	return tx.ForgetAcceptances(ctx, plan)
}

// mostDue bounds how many acceptances are looked at by one Lapse.
const mostDue = 200

// Lapse frees what was held up to now, and marks what is held for a short while
// only, so that those who watch the plans are told. It returns how many lapsed
// and of how many it was told.
func (b Book) Lapse(ctx context.Context, now time.Time) (lapsed, told int, err error) {
	lapsed, err = b.each(ctx, now, false, func(tx db.Tx, a *Acceptance) error {
		return release(ctx, tx, a, postLapse, Lapsed)
	})
	if err != nil {
		return lapsed, 0, err
	}
	rules, err := b.store.StoreRules(ctx)
	if err != nil {
		return lapsed, 0, err
	}
	told, err = b.each(ctx, now.Add(rulesOf(rules).WarnFrom()), true, func(tx db.Tx, a *Acceptance) error {
		warned := a.Acceptance
		warned.Warned = true
		return tx.SetAcceptance(ctx, warned)
	})
	return lapsed, told, err
}

// each runs do on the acceptances that are held up to a time, each in a
// transaction of its own; with warn only those of which it was not told yet.
func (b Book) each(ctx context.Context, before time.Time, warn bool, do func(db.Tx, *Acceptance) error) (done int, err error) {
	plans, err := b.store.DueAcceptances(ctx, before, warn, mostDue)
	if err != nil {
		return 0, err
	}
	for _, id := range plans {
		did := false
		err := b.store.InTx(ctx, func(tx db.Tx) error {
			did = false
			p, err := tx.LockPlan(ctx, id)
			if errors.Is(err, db.ErrNotFound) {
				return nil // erased
			}
			if err != nil {
				return err
			}
			a, err := Of(ctx, tx.Queries, id)
			if err != nil || a == nil || a.State != Held || a.HeldUntil.After(before) || warn && a.Warned {
				return err // another was quicker
			}
			did = true
			return b.watched(ctx, tx, p, func(db.Tx, db.Plan) error { return do(tx, a) })
		})
		if err != nil {
			return done, err
		}
		if did {
			done++
		}
	}
	return done, nil
}

// rulesOf returns the rules of the store in the words of the stores.
func rulesOf(r db.StoreRules) stores.Rules {
	return stores.Rules{HoldH: r.HoldH, AfterBookingH: r.AfterBookingH, WarnH: r.WarnH, LeastRollerMM: r.LeastRollerMM}
}
