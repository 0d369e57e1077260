package db

import (
	"context"
	"time"
)

// Lot is one thing in the stores whose amount is counted, in sheets, mm or
// pieces.
type Lot struct {
	Code     string    `db:"code"`
	Kind     string    `db:"kind"` // sheets, roll, tape, offcut
	Item     string    `db:"item"`
	Stock    string    `db:"stock"`
	Family   string    `db:"family"`
	Batch    string    `db:"batch"`
	WidthMM  int64     `db:"width_mm"`
	LengthMM int64     `db:"length_mm"`
	Counted  bool      `db:"counted"`
	Free     int64     `db:"free"`
	Reserved int64     `db:"reserved"`
	Issued   int64     `db:"issued"`
	Created  time.Time `db:"created"`
}

const lotColumns = "code, kind, item, stock, family, batch, width_mm, length_mm, counted, free, reserved, issued, created"

// AddLot adds a lot that holds nothing yet, and says whether it did: false where
// the code is taken.
func (q ledgerTable) AddLot(ctx context.Context, l Lot) (bool, error) {
	n, err := q.exec(ctx, "add a lot", `
		insert into lots (code, kind, item, stock, family, batch, width_mm, length_mm, counted)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9) on conflict do nothing`,
		l.Code, l.Kind, l.Item, l.Stock, l.Family, l.Batch, l.WidthMM, l.LengthMM, l.Counted)
	return n == 1, err
}

// LockItems returns all lots of the items and keeps others from changing them
// until the transaction ends. Lots are locked in the order of their codes, and
// after the plan, so that two transactions never lock them crosswise.
func (q ledgerTable) LockItems(ctx context.Context, items ...string) ([]Lot, error) {
	return all[Lot](ctx, q.on, "lock items", `select `+lotColumns+` from lots where item = any($1) order by code for update`, items)
}

// LockLots is LockItems by the codes of lots.
func (q ledgerTable) LockLots(ctx context.Context, codes ...string) ([]Lot, error) {
	return all[Lot](ctx, q.on, "lock lots", `select `+lotColumns+` from lots where code = any($1) order by code for update`, codes)
}

// Lots returns all lots, by item and code.
func (q ledgerTable) Lots(ctx context.Context) ([]Lot, error) {
	return all[Lot](ctx, q.on, "list lots", `select `+lotColumns+` from lots order by item, code`)
}

// StoreRules say how long stock is held for a plan, in hours, and from which
// width the rollers hold an offcut, in mm.
type StoreRules struct {
	HoldH         int `db:"hold_h"`
	AfterBookingH int `db:"after_booking_h"`
	WarnH         int `db:"warn_h"`
	LeastRollerMM int `db:"least_roller_mm"`
}

// StoreRules returns the rules of the stores.
func (q ledgerTable) StoreRules(ctx context.Context) (StoreRules, error) {
	return one[StoreRules](ctx, q.on, "read the rules of the stores",
		`select hold_h, after_booking_h, warn_h, least_roller_mm from store_rules`)
}

// SetStoreRules replaces the rules of the stores.
func (q ledgerTable) SetStoreRules(ctx context.Context, r StoreRules) error {
	return q.touch(ctx, "set the rules of the stores",
		`update store_rules set hold_h = $1, after_booking_h = $2, warn_h = $3, least_roller_mm = $4`,
		r.HoldH, r.AfterBookingH, r.WarnH, r.LeastRollerMM)
}

// LockStoreRules keeps others from changing the rules and the reorder points until
// the transaction ends.
func (q ledgerTable) LockStoreRules(ctx context.Context) error {
	_, err := q.exec(ctx, "lock the rules of the stores", `lock table store_rules, reorder_points in share row exclusive mode`)
	return err
}

// ReorderPoint is from which amount an item is bought anew.
type ReorderPoint struct {
	Item   string `db:"item"`
	Amount int64  `db:"amount"`
}

// ReorderPoints returns all that are set, by item.
func (q ledgerTable) ReorderPoints(ctx context.Context) ([]ReorderPoint, error) {
	return all[ReorderPoint](ctx, q.on, "list reorder points", `select item, amount from reorder_points order by item`)
}

// SetReorderPoint sets from which amount an item is bought anew.
func (q ledgerTable) SetReorderPoint(ctx context.Context, p ReorderPoint) error {
	return q.touch(ctx, "set a reorder point", `
		insert into reorder_points (item, amount) values ($1, $2)
		on conflict (item) do update set amount = excluded.amount`, p.Item, p.Amount)
}
