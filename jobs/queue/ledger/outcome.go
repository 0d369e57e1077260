package ledger

import (
	"context"
	"errors"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/stores"

	"github.com/google/uuid"
)

// Outcome is what became of the stock of a plan, and how long it took.
type Outcome struct {
	Plan       uuid.UUID
	Results    []stores.Result // of lots that it does not name all was used that was held
	Offcuts    []Piece
	Pieces     []db.SpoiledPiece
	CutterS    int64
	BenchS     int64
	ReportedBy string
	Remark     string
}

// Piece is an offcut that is put aside, in mm: across the feed and along it.
type Piece struct {
	Lot               string // that it was cut from
	WidthMM, LengthMM int64
}

// ErrNoLot: no lot has this code.
var ErrNoLot = errors.New("ledger: no such lot")

// Posted runs in the transaction of a posting.
type Posted func(tx db.Tx, posting uuid.UUID) error

// Issue hands out what is held for a plan.
func (b Book) Issue(ctx context.Context, client string, plan uuid.UUID, by, remark string, with Posted) (posting uuid.UUID, err error) {
	err = b.locked(ctx, client, plan, func(tx db.Tx, p db.Plan) error {
		r, err := open(ctx, tx, p)
		if err != nil {
			return err
		}
		if r.a.State == Issued {
			return &Refusal{AlreadyOut}
		}
		if err := r.lock(ctx, tx); err != nil {
			return err
		}
		r.issue()
		posting = uuid.New()
		return r.post(ctx, tx, db.Posting{ID: posting, Kind: postIssue, ReportedBy: by, Remark: remark}, Issued, with)
	})
	return posting, err
}

// Settle takes in what became of the stock of a plan. What was held and not handed
// out yet counts as handed out now.
func (b Book) Settle(ctx context.Context, client string, o Outcome, with Posted) (posting uuid.UUID, err error) {
	err = b.locked(ctx, client, o.Plan, func(tx db.Tx, p db.Plan) error {
		r, err := open(ctx, tx, p)
		if err != nil {
			return err
		}
		codes := make([]string, len(o.Results))
		for i, one := range o.Results {
			codes[i] = one.Lot
		}
		if err := r.lock(ctx, tx, codes...); err != nil {
			return err
		}
		r.issue()
		if err := r.settle(ctx, tx, o.Results); err != nil {
			return err
		}
		for _, piece := range o.Offcuts {
			if err := r.putAside(ctx, tx, piece); err != nil {
				return err
			}
		}
		if err := tx.AddSpoiledPieces(ctx, r.a.ID, o.Pieces); err != nil {
			return err
		}
		posting = uuid.New()
		if err := r.post(ctx, tx, db.Posting{
			ID: posting, Kind: postOutcome, PriceMinor: r.a.TotalMinor, CutterS: o.CutterS, BenchS: o.BenchS,
			ReportedBy: o.ReportedBy, Remark: o.Remark,
		}, Closed, with); err != nil {
			return err
		}
		return learn(ctx, tx, p, posting, o)
	})
	return posting, err
}

// handling is the stock of an accepted plan on its way.
type handling struct {
	a      *Acceptance
	about  db.Posting // that reserved it: what the work is made of and charged to
	lots   []db.Lot   // locked
	issued map[string]int64
	moves  []db.Movement
}

// open returns the stock that is held or handed out for a plan.
func open(ctx context.Context, tx db.Tx, p db.Plan) (*handling, error) {
	a, err := Of(ctx, tx.Queries, p.ID)
	switch {
	case err != nil:
		return nil, err
	case a == nil || a.State == Lapsed || a.State == Freed:
		return nil, &Refusal{NotAccepted}
	case a.State == Closed:
		return nil, &Refusal{AlreadyDone}
	}
	about, err := tx.Reserving(ctx, a.ID)
	return &handling{a: a, about: about, issued: map[string]int64{}}, err
}

// lock locks the lots that are held, and others.
func (r *handling) lock(ctx context.Context, tx db.Tx, others ...string) (err error) {
	codes := slices.Clone(others)
	for _, h := range r.a.Holding {
		codes = append(codes, h.Lot)
	}
	if r.lots, err = tx.LockLots(ctx, codes...); err != nil {
		return err
	}
	for _, code := range codes {
		if r.lot(code) == nil {
			return ErrNoLot
		}
	}
	return nil
}

func (r *handling) lot(code string) *db.Lot {
	at := slices.IndexFunc(r.lots, func(l db.Lot) bool { return l.Code == code })
	if at < 0 {
		return nil
	}
	return &r.lots[at]
}

// move adds a movement, unless there is nothing to move.
func (r *handling) move(kind, lot, source, target string, amount int64) {
	if amount > 0 {
		r.moves = append(r.moves, db.Movement{Kind: kind, Lot: lot, Source: source, Target: target, Amount: amount})
	}
}

// issue hands out what is reserved.
func (r *handling) issue() {
	for _, h := range r.a.Holding {
		r.move(postIssue, h.Lot, reserved, issued, h.Reserved)
		r.issued[h.Lot] = h.Reserved + h.Issued
	}
}

// settle says of all that is handed out what became of it.
func (r *handling) settle(ctx context.Context, tx db.Tx, results []stores.Result) error {
	for _, h := range r.a.Holding {
		if !slices.ContainsFunc(results, func(o stores.Result) bool { return o.Lot == h.Lot }) {
			results = append(results, stores.Result{Lot: h.Lot})
		}
	}
	for _, o := range results {
		amounts, ok := o.Of(r.issued[o.Lot])
		l := r.lot(o.Lot)
		switch {
		case !ok:
			return &Refusal{NotAdding}
		case l.Counted && amounts.More > l.Free:
			return &Short{Need: stores.Need{Item: l.Item, Kind: stores.Kind(l.Kind), Amount: r.issued[o.Lot] + amounts.More}, By: amounts.More - l.Free}
		}
		r.move(postIssue, o.Lot, free, issued, amounts.More)
		r.move(moveUse, o.Lot, issued, used, amounts.Used)
		r.move(moveSpoil, o.Lot, issued, spoiled, amounts.Spoiled)
		r.move(moveReturn, o.Lot, issued, free, amounts.Left)
		if l.Kind == string(stores.Offcut) && amounts.Left == 0 {
			if err := withdraw(ctx, tx, l.Item); err != nil {
				return err
			}
		}
	}
	return nil
}

// post adds the posting and brings the acceptance to its state.
func (r *handling) post(ctx context.Context, tx db.Tx, p db.Posting, state State, with Posted) error {
	p.Acceptance, p.Stock, p.Family, p.CostCode = &r.a.ID, r.about.Stock, r.about.Family, r.a.CostCode
	if err := tx.Post(ctx, p, r.moves...); err != nil {
		return err
	}
	changed := r.a.Acceptance
	changed.State = string(state)
	if err := tx.SetAcceptance(ctx, changed); err != nil || with == nil {
		return err
	}
	return with(tx, p.ID)
}
