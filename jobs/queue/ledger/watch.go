package ledger

import (
	"context"

	"knifedesk/db"
)

// Event is what became of an acceptance.
type Event string

// The events of an acceptance.
const (
	Made         Event = "acceptance.made"
	LapsingSoon  Event = "acceptance.lapsing" // the stock is free again in a while
	HasLapsed    Event = "acceptance.lapsed"
	GivenBack    Event = "acceptance.released"
	HandedOut    Event = "acceptance.issued"
	ReportedDone Event = "acceptance.closed"
)

// Events are all events of acceptances.
func Events() []Event {
	return []Event{Made, LapsingSoon, HasLapsed, GivenBack, HandedOut, ReportedDone}
}

// Tell notes an event of an acceptance for all who want to know of it, within the
// transaction that led to it.
type Tell func(ctx context.Context, tx db.Tx, p db.Plan, e Event, a *Acceptance) error

// Telling returns the ledger as it tells what becomes of acceptances.
func (b Book) Telling(tell Tell) Book {
	b.tell = tell
	return b
}

// watched runs do, which may change the acceptance of a plan that is locked, and tells
// of it.
func (b Book) watched(ctx context.Context, tx db.Tx, p db.Plan, do func(db.Tx, db.Plan) error) error {
	if b.tell == nil {
		return do(tx, p)
	}
	before, err := Of(ctx, tx.Queries, p.ID)
	if err != nil {
		return err
	}
	if err := do(tx, p); err != nil {
		return err
	}
	after, err := Of(ctx, tx.Queries, p.ID)
	if err != nil {
		return err
	}
	if e := eventOf(before, after); e != "" {
		return b.tell(ctx, tx, p, e, after)
	}
	return nil
}

// eventOf says what became of an acceptance; nothing where it stands as it did.
func eventOf(before, after *Acceptance) Event {
	switch {
	case after == nil:
		return ""
	case before == nil || before.ID != after.ID:
		return Made
	case before.State == after.State:
		if after.LapsesSoon() && !before.LapsesSoon() {
			return LapsingSoon
		}
		return ""
	}
	return map[State]Event{Lapsed: HasLapsed, Freed: GivenBack, Issued: HandedOut, Closed: ReportedDone}[after.State]
}
