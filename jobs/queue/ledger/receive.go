package ledger

import (
	"context"
	"crypto/rand"
	"errors"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// Receipt is what came into the stores: sheets of a stock, one roll of it, or one
// roll of tape.
type Receipt struct {
	Item       string
	Amount     int64 // sheets, or mm
	Batch      string
	WidthMM    int64 // of tape
	ReportedBy string
	Remark     string
}

// ErrNoItem: the stores keep no such item.
var ErrNoItem = errors.New("ledger: no such item")

// Receive takes goods in. Sheets of the same stock and batch lie in one pile;
// each roll is a lot of its own and gets a code for its label. with, where set,
// runs in the same transaction.
func (b Book) Receive(ctx context.Context, r Receipt, with Posted) (posting uuid.UUID, err error) {
	err = b.store.InTx(ctx, func(tx db.Tx) error {
		kind, stock, err := itemOf(ctx, tx.Queries, r.Item)
		if err != nil {
			return err
		}
		l := db.Lot{Kind: string(kind), Item: r.Item, Stock: stock.ID, Family: string(stock.Family), Batch: r.Batch, WidthMM: r.WidthMM, Counted: true}
		code, err := lotFor(ctx, tx, l)
		if err != nil {
			return err
		}
		posting = uuid.New()
		err = tx.Post(ctx, db.Posting{ID: posting, Kind: postReceipt, Stock: l.Stock, Family: l.Family, ReportedBy: r.ReportedBy, Remark: r.Remark},
			db.Movement{Kind: postReceipt, Lot: code, Source: outside, Target: free, Amount: r.Amount})
		if err == nil && with != nil {
			err = with(tx, posting)
		}
		return err
	})
	return posting, err
}

// itemOf says in what an item is counted, and what stock it is; tape is none.
func itemOf(ctx context.Context, q db.Queries, item string) (stores.Kind, workshop.Stock, error) {
	for _, t := range []workshop.Tack{workshop.LowTack, workshop.MediumTack, workshop.HighTack} {
		if item == stores.TapeItem(t) {
			return stores.Tape, workshop.Stock{}, nil
		}
	}
	doc, err := Stocks(q).Newest(ctx, item)
	if errors.Is(err, db.ErrNotFound) || doc.Doc.Form == workshop.Offcut { // which is made, and no more than one of it
		return "", workshop.Stock{}, ErrNoItem
	}
	return stores.KindOf(doc.Doc.Form), doc.Doc, err
}

// lotFor returns the code of the pile that a receipt of sheets lies on, or of a
// new lot.
func lotFor(ctx context.Context, tx db.Tx, l db.Lot) (string, error) {
	if l.Kind == string(stores.Sheets) {
		lots, err := tx.LockItems(ctx, l.Item)
		if err != nil {
			return "", err
		}
		at := slices.IndexFunc(lots, func(o db.Lot) bool { return o.Kind == l.Kind && o.Counted && o.Batch == l.Batch })
		if at >= 0 {
			return lots[at].Code, nil
		}
	}
	l, err := newLot(ctx, tx, l)
	return l.Code, err
}

// letters are those of codes: none that is taken for another when read off a
// label.
const letters = "23456789ABCDEFGHJKMNPQRTUVWXY"

// codeLong is how many letters a code has: some 700,000 codes.
const codeLong = 4

// newLot adds a lot under a code that no other bears, and returns it. The item of
// an offcut is named by its code.
func newLot(ctx context.Context, tx db.Tx, l db.Lot) (db.Lot, error) {
	for {
		random := make([]byte, codeLong)
		rand.Read(random) // never fails
		for i, b := range random {
			random[i] = letters[int(b)%len(letters)]
		}
		l.Code = string(random)
		if l.Kind == string(stores.Offcut) {
			l.Item = stores.OffcutItem(l.Code)
		}
		if mine, err := tx.AddLot(ctx, l); err != nil || mine {
			return l, err
		}
	}
}

// Posting is what happened in the stores at once, with what it moved.
type Posting struct {
	db.Posting
	Moves []db.Movement
}

// Posting returns a posting; db.ErrNotFound where there is none.
func (b Book) Posting(ctx context.Context, id uuid.UUID) (p Posting, err error) {
	if p.Posting, err = b.store.Posting(ctx, id); err != nil {
		return p, err
	}
	p.Moves, err = b.store.Movements(ctx, id)
	return p, err
}
