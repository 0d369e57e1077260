// Package ledger keeps the stores: what is there, what is held for the plans that
// were accepted, and what was really used.
//
//	receipt   outside  → free
//	reserve   free     → reserved   a plan is accepted
//	release   reserved → free       it is given back, or lapses
//	issue     reserved → issued     the stock is handed out
//	use       issued   → used       an outcome says what became of it
//	spoil     issued   → spoiled
//	return    issued   → free
//
// Each is a posting of movements in one transaction; a posting that was wrong is
// reversed by another. Locks are taken in the order plan, lots by code. Which lot
// gives what is decided by jobs/stores, which is pure.
package ledger

import (
	"context"
	"fmt"

	"knifedesk/db"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// Book is the ledger in a store. Its methods may be called from several
// goroutines and processes.
type Book struct {
	store *db.DB
	tell  Tell // nil: nobody
}

// Open returns the ledger of a store, which must be migrated.
func Open(store *db.DB) Book { return Book{store: store} }

// The kinds of postings.
const (
	postReceipt  = "receipt"
	postReserve  = "reserve"
	postRelease  = "release"
	postLapse    = "lapse"
	postIssue    = "issue"
	postOutcome  = "outcome"
	postReversal = "reversal"
)

// The kinds of movements that are no kinds of postings.
const (
	moveUse    = "use"
	moveSpoil  = "spoil"
	moveReturn = "return"
	moveOffcut = "offcut"
)

// The accounts between which amounts move.
const (
	outside  = "outside"
	free     = "free"
	reserved = "reserved"
	issued   = "issued"
	used     = "used"
	spoiled  = "spoiled"
)

// State is how an acceptance stands.
type State string

// The states of an acceptance.
const (
	Held   State = "held"   // the stock is reserved
	Lapsed State = "lapsed" // the time is over and the stock is free again
	Freed  State = "freed"  // given back
	Issued State = "issued" // the stock is handed out
	Closed State = "closed" // it is reported what became of it
)

// Refusal says why the ledger does not do what it was asked. Nothing has changed.
type Refusal struct{ Code string }

func (r *Refusal) Error() string { return "ledger: " + r.Code }

// The codes of a Refusal.
const (
	NotReady     = "not_ready"     // the plan is not ready
	QuoteExpired = "quote_expired" // the price is too old to be taken
	PastBooking  = "past_booking"  // the stock would lapse at once
	AlreadyOut   = "already_issued"
	AlreadyDone  = "already_reported"
	NotAccepted  = "not_accepted"   // nothing is held for the plan
	NotAdding    = "amounts_differ" // more came back than there was
	Reversed     = "already_reversed"
	NotReversing = "not_reversible" // what it moved has moved on, or it is of a kind that is undone otherwise
	WrongSize    = "wrong_size"     // an offcut is larger than what it is cut from
)

// Short says of what there is not enough.
type Short struct {
	stores.Need
	By      int64
	Nearest *workshop.Stock // of the same material, of which there is enough; nil: none
}

func (s *Short) Error() string {
	return fmt.Sprintf("ledger: %s is short by %d of %d %s", s.Item, s.By, s.Amount, s.Kind.Unit())
}

// Acceptance is the price of a plan that was taken, with what is held for it.
type Acceptance struct {
	db.Acceptance
	State   State
	Holding []db.Holding
}

// Binds says whether the plan must stay as it was accepted.
func (a *Acceptance) Binds() bool { return a != nil && a.State != Lapsed && a.State != Freed }

// LapsesSoon says whether the end of the holding was told.
func (a *Acceptance) LapsesSoon() bool { return a.State == Held && a.Warned }

// Acceptance returns the last acceptance of a plan of client; nil where it was
// never accepted.
func (b Book) Acceptance(ctx context.Context, client string, plan uuid.UUID) (*Acceptance, error) {
	if _, err := b.store.PlanStanding(ctx, client, plan); err != nil {
		return nil, err
	}
	return Of(ctx, b.store.Queries, plan)
}

// lotOf returns a lot of the store in the words of the rules.
func lotOf(l db.Lot) stores.Lot {
	return stores.Lot{
		Code: l.Code, Kind: stores.Kind(l.Kind), Item: l.Item, Stock: l.Stock, Family: workshop.Family(l.Family), Batch: l.Batch,
		WidthMM: l.WidthMM, LengthMM: l.LengthMM, Counted: l.Counted, Free: l.Free, Reserved: l.Reserved, Issued: l.Issued, Created: l.Created,
	}
}

func lotsOf(all []db.Lot) []stores.Lot {
	out := make([]stores.Lot, len(all))
	for i, l := range all {
		out[i] = lotOf(l)
	}
	return out
}

// locked runs do in a transaction that holds a plan of client.
func (b Book) locked(ctx context.Context, client string, plan uuid.UUID, do func(db.Tx, db.Plan) error) error {
	return b.store.InTx(ctx, func(tx db.Tx) error {
		p, err := tx.LockPlan(ctx, plan)
		if err == nil && client != p.Client && client != db.AnyClient {
			err = db.ErrNotFound
		}
		if err != nil {
			return err
		}
		return b.watched(ctx, tx, p, do)
	})
}
