package ledger

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// Booking is what an acceptance says of the time at the machine.
type Booking struct {
	Reference string
	Ends      *time.Time // nil: not said
	CostCode  string     // empty: that of the plan
}

// Accept takes the quote of a plan that is ready and reserves what it needs. A
// plan whose stock is held already stays so; only the booking is taken over, and
// with it how long the stock is held. It reports whether the acceptance is new,
// and fails with a *Refusal or a *Short. with, where set, runs in the same
// transaction.
func (b Book) Accept(ctx context.Context, client string, id uuid.UUID, booking Booking, with func(db.Tx) error) (a *Acceptance, fresh bool, err error) {
	err = b.locked(ctx, client, id, func(tx db.Tx, p db.Plan) error {
		fresh = false
		last, err := Of(ctx, tx.Queries, id)
		if err != nil {
			return err
		}
		if last != nil && last.State == Held && !last.HeldUntil.After(time.Now()) { // it was to lapse by now
			if err := release(ctx, tx, last, postLapse, Lapsed); err != nil {
				return err
			}
			last = nil
		}
		switch {
		case last != nil && last.State == Held:
			err = rebook(ctx, tx, last, booking)
		case last != nil && last.State == Issued:
			err = &Refusal{AlreadyOut}
		case last != nil && last.State == Closed:
			err = &Refusal{AlreadyDone}
		default:
			fresh = true
			err = accept(ctx, tx, p, booking)
		}
		if err == nil && with != nil {
			err = with(tx)
		}
		if err == nil {
			a, err = Of(ctx, tx.Queries, id)
		}
		return err
	})
	return a, fresh, err
}

// rebook takes a booking over into an acceptance that is held.
func rebook(ctx context.Context, tx db.Tx, a *Acceptance, booking Booking) error {
	if booking.Reference == "" && booking.Ends == nil {
		return nil // the same request again
	}
	rules, err := tx.StoreRules(ctx)
	if err != nil {
		return err
	}
	changed := a.Acceptance
	changed.BookingReference, changed.BookingEnds = booking.Reference, booking.Ends
	changed.HeldUntil = rulesOf(rules).HeldUntil(a.Created, booking.Ends)
	if !changed.HeldUntil.After(time.Now()) {
		return &Refusal{PastBooking}
	}
	changed.Warned = changed.Warned && changed.HeldUntil.Equal(a.HeldUntil)
	return tx.SetAcceptance(ctx, changed)
}

// accept adds the acceptance of a plan for which nothing is held.
func accept(ctx context.Context, tx db.Tx, p db.Plan, booking Booking) error {
	v, err := quoted(ctx, tx, p)
	if err != nil {
		return err
	}
	rules, err := tx.StoreRules(ctx)
	if err != nil {
		return err
	}
	now := time.Now()
	a := db.Acceptance{
		ID: uuid.New(), Plan: p.ID, TotalMinor: v.Estimate.TotalMinor, TotalText: v.Estimate.TotalText,
		PriceUntil: stores.QuoteUntil(p.Updated, v.Estimate.ValidDays), HeldUntil: rulesOf(rules).HeldUntil(now, booking.Ends),
		BookingReference: booking.Reference, BookingEnds: booking.Ends, CostCode: booking.CostCode,
	}
	if a.CostCode == "" {
		a.CostCode = p.CostCode
	}
	switch {
	case !a.PriceUntil.After(now):
		return &Refusal{QuoteExpired}
	case !a.HeldUntil.After(now):
		return &Refusal{PastBooking}
	}
	if _, err := tx.AddAcceptance(ctx, a); err != nil {
		return err
	}
	if err := reserve(ctx, tx, a, v); err != nil {
		return err
	}
	return tx.TellPlan(ctx, p.ID)
}

// quoted returns the view of a plan that is ready, with its estimate.
func quoted(ctx context.Context, tx db.Tx, p db.Plan) (*view.Plan, error) {
	if p.Status != string(plan.Ready) {
		return nil, &Refusal{NotReady}
	}
	stored, err := tx.PlanView(ctx, p.Client, p.ID)
	if err != nil {
		return nil, err
	}
	if stored.View == nil { // an older program left it; whoever reads the plan gathers it
		return nil, &Refusal{NotReady}
	}
	var v view.Plan
	if err := json.Unmarshal(stored.View, &v); err != nil {
		return nil, fmt.Errorf("ledger: the view of plan %s: %w", p.ID, err)
	}
	if v.Estimate == nil || v.Usage == nil {
		return nil, &Refusal{NotReady}
	}
	return &v, nil
}

// reserve moves what the plan needs from free to reserved.
func reserve(ctx context.Context, tx db.Tx, a db.Acceptance, v *view.Plan) error {
	needs := stores.Needs(v.Request.Stock, v.Request.Form, *v.Usage)
	lots, err := lock(ctx, tx, needs, v.Request)
	if err != nil {
		return err
	}
	var moves []db.Movement
	for _, need := range needs {
		takes, short := need.From(lots)
		if short > 0 {
			return shortOf(ctx, tx, need, short)
		}
		for _, t := range takes {
			moves = append(moves, db.Movement{Kind: postReserve, Lot: t.Lot, Source: free, Target: reserved, Amount: t.Amount})
		}
	}
	about := db.Posting{ID: uuid.New(), Kind: postReserve, Acceptance: &a.ID, Family: string(v.Request.Family), CostCode: a.CostCode}
	for _, l := range lots {
		if l.Item == v.Request.Stock {
			about.Stock = l.Stock // of an offcut that which it was cut from
		}
	}
	return tx.Post(ctx, about, moves...)
}

// lock returns the lots of what is needed. An item of which there is none gets
// one: it is not counted, but for an offcut, which is one piece by its nature.
func lock(ctx context.Context, tx db.Tx, needs []stores.Need, r view.Request) ([]stores.Lot, error) {
	items := make([]string, len(needs))
	for i, n := range needs {
		items[i] = n.Item
	}
	lots, err := tx.LockItems(ctx, items...)
	if err != nil {
		return nil, err
	}
	missing := slices.DeleteFunc(slices.Clone(needs), func(n stores.Need) bool {
		return slices.ContainsFunc(lots, func(l db.Lot) bool { return l.Item == n.Item })
	})
	for _, n := range missing {
		added := db.Lot{Code: n.Item, Kind: string(n.Kind), Item: n.Item, Counted: n.Kind == stores.Offcut}
		if n.Kind != stores.Tape {
			added.Stock, added.Family = r.Stock, string(r.Family)
		}
		if err := addLot(ctx, tx, added); err != nil {
			return nil, err
		}
	}
	if len(missing) > 0 {
		lots, err = tx.LockItems(ctx, items...)
	}
	return lotsOf(lots), err
}

// addLot adds a lot, with its one piece where it is an offcut, unless another has
// added it.
func addLot(ctx context.Context, tx db.Tx, l db.Lot) error {
	mine, err := tx.AddLot(ctx, l)
	if err != nil || !mine || !l.Counted {
		return err
	}
	return tx.Post(ctx, db.Posting{ID: uuid.New(), Kind: postReceipt, Stock: l.Stock, Family: l.Family},
		db.Movement{Kind: postReceipt, Lot: l.Code, Source: outside, Target: free, Amount: 1})
}

// shortOf says of what there is not enough, and which stock would do.
func shortOf(ctx context.Context, tx db.Tx, need stores.Need, by int64) error {
	short := &Short{Need: need, By: by}
	stocks, err := Stocks(tx.Queries).All(ctx)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(stocks, func(d db.Document[workshop.Stock]) bool { return d.ID == need.Item })
	if at < 0 {
		return short // tape, or a stock that was withdrawn
	}
	lots, err := tx.Lots(ctx)
	if err != nil {
		return err
	}
	docs := make([]workshop.Stock, len(stocks))
	for i, d := range stocks {
		docs[i] = d.Doc
	}
	if near, ok := stores.Nearest(docs[at], need, docs, lotsOf(lots)); ok {
		short.Nearest = &near
	}
	return short
}

// Stocks is the shelf of the workshop's stocks.
func Stocks(q db.Queries) db.Shelf[workshop.Stock] { return db.ShelfOf[workshop.Stock](q, db.Stocks) }

// Of returns the last acceptance of a plan, nil where it was never accepted.
func Of(ctx context.Context, q db.Queries, id uuid.UUID) (*Acceptance, error) {
	stored, err := q.Acceptance(ctx, id)
	if errors.Is(err, db.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	holding, err := q.Holdings(ctx, stored.ID)
	return &Acceptance{Acceptance: stored, State: State(stored.State), Holding: holding}, err
}
