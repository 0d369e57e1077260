package ledger

import (
	"context"
	"errors"
	"math"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// Offcut is a remainder that was put aside, under the code on its label.
type Offcut struct {
	stores.Lot
	Stock   workshop.Stock // that it is to plan on
	Offered bool           // false: no machine holds it, or it is used up
}

// OffcutFilter picks offcuts; its zero fields pick all that are there.
type OffcutFilter struct {
	Stock    string          // cut from this one
	Family   workshop.Family // of this material
	WidthMM  int64           // at least as large as this by LengthMM, either way round
	LengthMM int64
}

func (f OffcutFilter) takes(o Offcut) bool {
	fits := o.WidthMM >= f.WidthMM && o.LengthMM >= f.LengthMM || o.WidthMM >= f.LengthMM && o.LengthMM >= f.WidthMM
	return fits && (f.Stock == "" || o.Lot.Stock == f.Stock) && (f.Family == "" || o.Family == f.Family)
}

// Offcuts lists what was put aside and is not used up, the smallest first.
func (b Book) Offcuts(ctx context.Context, f OffcutFilter) ([]Offcut, error) {
	lots, err := b.store.Lots(ctx)
	if err != nil {
		return nil, err
	}
	docs, err := Stocks(b.store.Queries).All(ctx)
	if err != nil {
		return nil, err
	}
	var found []Offcut
	for _, l := range lots {
		if l.Kind != string(stores.Offcut) || l.Free+l.Reserved+l.Issued == 0 {
			continue
		}
		o := Offcut{Lot: lotOf(l)}
		if at := slices.IndexFunc(docs, func(d db.Document[workshop.Stock]) bool { return d.ID == l.Item }); at >= 0 {
			o.Stock, o.Offered = docs[at].Doc, true
		}
		if f.takes(o) {
			found = append(found, o)
		}
	}
	slices.SortStableFunc(found, func(a, b Offcut) int { return int(a.WidthMM*a.LengthMM - b.WidthMM*b.LengthMM) })
	return found, nil
}

// CutFrom returns the stock that an offcut was cut from, as it is kept now; any
// other stock is its own.
func (b Book) CutFrom(ctx context.Context, s workshop.Stock) (workshop.Stock, error) {
	if s.Form != workshop.Offcut {
		return s, nil
	}
	lots, err := b.store.Lots(ctx)
	if err != nil {
		return s, err
	}
	at := slices.IndexFunc(lots, func(l db.Lot) bool { return l.Item == s.ID })
	if at < 0 || lots[at].Stock == s.ID {
		return s, nil
	}
	of, err := Stocks(b.store.Queries).Newest(ctx, lots[at].Stock)
	if errors.Is(err, db.ErrNotFound) {
		return s, nil
	}
	return of.Doc, err
}

// PutAside takes an offcut of a stock in that comes from no plan, and returns its
// posting.
func (b Book) PutAside(ctx context.Context, stock string, widthMM, lengthMM int64, by, remark string, with Posted) (posting uuid.UUID, err error) {
	err = b.store.InTx(ctx, func(tx db.Tx) error {
		l, err := makeOffcut(ctx, tx, stock, widthMM, lengthMM)
		if err != nil {
			return err
		}
		posting = uuid.New()
		err = tx.Post(ctx, db.Posting{ID: posting, Kind: postReceipt, Stock: l.Stock, Family: l.Family, ReportedBy: by, Remark: remark},
			db.Movement{Kind: moveOffcut, Lot: l.Code, Source: outside, Target: free, Amount: 1})
		if err == nil && with != nil {
			err = with(tx, posting)
		}
		return err
	})
	return posting, err
}

// putAside takes an offcut in that is left of the work.
func (r *handling) putAside(ctx context.Context, tx db.Tx, p Piece) error {
	from := r.lot(p.Lot)
	if from == nil || from.Kind == string(stores.Tape) {
		return ErrNoLot
	}
	if from.Kind == string(stores.Offcut) && from.WidthMM > 0 && (p.WidthMM > from.WidthMM || p.LengthMM > from.LengthMM) {
		return &Refusal{WrongSize}
	}
	l, err := makeOffcut(ctx, tx, from.Stock, p.WidthMM, p.LengthMM)
	if err == nil {
		r.move(moveOffcut, l.Code, outside, free, 1)
	}
	return err
}

// makeOffcut adds an offcut of a stock under a new code, and where a machine holds
// it a stock of its own to plan on.
func makeOffcut(ctx context.Context, tx db.Tx, stock string, widthMM, lengthMM int64) (db.Lot, error) {
	of, err := Stocks(tx.Queries).Newest(ctx, stock)
	if errors.Is(err, db.ErrNotFound) {
		return db.Lot{}, ErrNoItem
	}
	if err != nil {
		return db.Lot{}, err
	}
	if float64(widthMM) > of.Doc.WidthMM || of.Doc.Form != workshop.Roll && float64(lengthMM) > math.Ceil(of.Doc.LengthMM) {
		return db.Lot{}, &Refusal{WrongSize}
	}
	l := db.Lot{Kind: string(stores.Offcut), Stock: stock, Family: string(of.Doc.Family), WidthMM: widthMM, LengthMM: lengthMM, Counted: true}
	if l, err = newLot(ctx, tx, l); err != nil {
		return l, err
	}
	rules, err := tx.StoreRules(ctx)
	if err != nil {
		return l, err
	}
	machines, err := db.ShelfOf[workshop.Machine](tx.Queries, db.Machines).All(ctx)
	if err != nil {
		return l, err
	}
	docs := make([]workshop.Machine, len(machines))
	for i, m := range machines {
		docs[i] = m.Doc
	}
	doc, offered := rulesOf(rules).StockOf(l.Code, of.Doc, widthMM, lengthMM, docs)
	if offered {
		_, err = Stocks(tx.Queries).Put(ctx, doc.ID, 0, doc)
	}
	return l, err
}

// withdraw takes the stock that an offcut is off the lists.
func withdraw(ctx context.Context, tx db.Tx, item string) error {
	doc, err := Stocks(tx.Queries).Newest(ctx, item)
	if errors.Is(err, db.ErrNotFound) {
		return nil // it was never offered
	}
	if err != nil {
		return err
	}
	return Stocks(tx.Queries).Withdraw(ctx, item, doc.Version)
}

// offer puts the stock that an offcut is on the lists again.
func offer(ctx context.Context, tx db.Tx, item string) error {
	doc, err := Stocks(tx.Queries).Newest(ctx, item)
	if err == nil || !errors.Is(err, db.ErrNotFound) {
		return err // it is on them
	}
	if doc.Version == 0 {
		return nil // it was never offered
	}
	_, err = Stocks(tx.Queries).Put(ctx, item, doc.Version, doc.Doc)
	return err
}
