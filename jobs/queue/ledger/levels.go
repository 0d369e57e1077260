package ledger

import (
	"cmp"
	"context"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"
)

// Level is how much there is of an item.
type Level struct {
	Item      string
	Name      string
	Kind      stores.Kind
	Counted   bool // something was received
	Free      int64
	Reserved  int64
	Issued    int64
	ReorderAt *int64 // nil: not set
	Lots      []stores.Lot
}

// Low says whether it is time to buy anew.
func (l Level) Low() bool { return l.Counted && l.ReorderAt != nil && l.Free <= *l.ReorderAt }

// Levels returns how much there is of each stock, but for offcuts, and of the
// tapes, by item.
func (b Book) Levels(ctx context.Context) ([]Level, error) {
	stocks, err := Stocks(b.store.Queries).All(ctx)
	if err != nil {
		return nil, err
	}
	lots, err := b.store.Lots(ctx)
	if err != nil {
		return nil, err
	}
	points, err := b.store.ReorderPoints(ctx)
	if err != nil {
		return nil, err
	}
	levels := itemsOf(stocks)
	for i := range levels {
		levels[i].add(lotsOf(lots))
		at := slices.IndexFunc(points, func(p db.ReorderPoint) bool { return p.Item == levels[i].Item })
		if at >= 0 {
			levels[i].ReorderAt = &points[at].Amount
		}
	}
	slices.SortFunc(levels, func(a, b Level) int { return cmp.Compare(a.Item, b.Item) })
	return levels, nil
}

// itemsOf lists the items that a workshop with the stocks keeps.
func itemsOf(stocks []db.Document[workshop.Stock]) (items []Level) {
	for _, d := range stocks {
		if d.Doc.Form != workshop.Offcut {
			items = append(items, Level{Item: d.ID, Name: d.Doc.Name, Kind: stores.KindOf(d.Doc.Form)})
		}
	}
	for _, t := range []workshop.Tack{workshop.LowTack, workshop.MediumTack, workshop.HighTack} {
		items = append(items, Level{Item: stores.TapeItem(t), Name: "Transfer tape, " + string(t) + " tack", Kind: stores.Tape})
	}
	return items
}

// add adds the lots of the item up. What is not counted has nothing free.
func (l *Level) add(lots []stores.Lot) {
	for _, lot := range lots {
		if lot.Item != l.Item || lot.Kind != l.Kind {
			continue
		}
		if lot.Counted {
			l.Counted = true
			l.Free += lot.Free
			l.Lots = append(l.Lots, lot)
		}
		l.Reserved += lot.Reserved
		l.Issued += lot.Issued
	}
}

// Level returns how much there is of an item; ErrNoItem where the stores keep none
// of this name.
func (b Book) Level(ctx context.Context, item string) (Level, error) {
	levels, err := b.Levels(ctx)
	if err != nil {
		return Level{}, err
	}
	at := slices.IndexFunc(levels, func(l Level) bool { return l.Item == item })
	if at < 0 {
		return Level{}, ErrNoItem // an offcut has no level
	}
	return levels[at], nil
}

// SetReorderPoint sets from which amount an item is bought anew, and returns how
// much there is of it. Nothing is set where check refuses what was there.
func (b Book) SetReorderPoint(ctx context.Context, item string, amount int64, check func(Level) error) (Level, error) {
	err := b.store.InTx(ctx, func(tx db.Tx) error { // which waits for the disk
		if err := tx.LockStoreRules(ctx); err != nil {
			return err
		}
		now, err := b.Level(ctx, item)
		if err != nil {
			return err
		}
		if err := check(now); err != nil {
			return err
		}
		return tx.SetReorderPoint(ctx, db.ReorderPoint{Item: item, Amount: amount})
	})
	if err != nil {
		return Level{}, err
	}
	return b.Level(ctx, item)
}

// Rules returns the rules of the stores.
func (b Book) Rules(ctx context.Context) (stores.Rules, error) {
	r, err := b.store.StoreRules(ctx)
	return rulesOf(r), err
}

// SetRules replaces the rules of the stores, unless check refuses those that were
// there. What is held already stays held as it was.
func (b Book) SetRules(ctx context.Context, r stores.Rules, check func(stores.Rules) error) error {
	return b.store.InTx(ctx, func(tx db.Tx) error {
		if err := tx.LockStoreRules(ctx); err != nil {
			return err
		}
		now, err := tx.StoreRules(ctx)
		if err != nil {
			return err
		}
		if err := check(rulesOf(now)); err != nil {
			return err
		}
		return tx.SetStoreRules(ctx, db.StoreRules{HoldH: r.HoldH, AfterBookingH: r.AfterBookingH, WarnH: r.WarnH, LeastRollerMM: r.LeastRollerMM})
	})
}
