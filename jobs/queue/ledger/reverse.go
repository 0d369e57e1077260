package ledger

import (
	"context"
	"errors"

	"knifedesk/db"
	"knifedesk/jobs/stores"

	"github.com/google/uuid"
)

// Reverse takes a receipt or an outcome back by a posting of its own, which moves
// all of it the other way. After an outcome was taken back the stock of the plan
// is handed out, and what became of it can be reported anew. It fails with a
// *Refusal where some of it has moved on since.
func (b Book) Reverse(ctx context.Context, id uuid.UUID, by, remark string, with Posted) (posting uuid.UUID, err error) {
	err = b.store.InTx(ctx, func(tx db.Tx) error {
		p, err := tx.Posting(ctx, id)
		if err != nil {
			return err
		}
		a, err := reopening(ctx, tx, p)
		if err != nil {
			return err
		}
		back, err := backwards(ctx, tx, p)
		if err != nil {
			return err
		}
		posting = uuid.New()
		err = tx.Post(ctx, db.Posting{
			ID: posting, Kind: postReversal, Acceptance: p.Acceptance, Reverses: &p.ID, Stock: p.Stock, Family: p.Family, CostCode: p.CostCode,
			PriceMinor: -p.PriceMinor, CutterS: -p.CutterS, BenchS: -p.BenchS, ReportedBy: by, Remark: remark,
		}, back...)
		if err != nil {
			return err
		}
		if a != nil {
			a.State = string(Issued)
			err = errors.Join(tx.SetAcceptance(ctx, *a), tx.ClearSpoiledPieces(ctx, a.ID))
		}
		if err == nil && with != nil {
			err = with(tx, posting)
		}
		return err
	})
	return posting, err
}

// reopening locks the plan whose outcome is taken back, and returns its acceptance;
// nil where there is none, or its plan was erased.
func reopening(ctx context.Context, tx db.Tx, p db.Posting) (*db.Acceptance, error) {
	if p.Kind != postReceipt && p.Kind != postOutcome {
		return nil, &Refusal{NotReversing}
	}
	if p.Acceptance == nil {
		return nil, nil
	}
	plan, err := tx.PlanOfAcceptance(ctx, *p.Acceptance)
	if errors.Is(err, db.ErrNotFound) {
		return nil, &Refusal{NotReversing} // nobody could report anew
	}
	if err != nil {
		return nil, err
	}
	if _, err := tx.LockPlan(ctx, plan); err != nil {
		return nil, err
	}
	a, err := tx.Acceptance(ctx, plan)
	if err == nil && (a.ID != *p.Acceptance || a.State != string(Closed)) {
		err = &Refusal{Reversed}
	}
	return &a, err
}

// backwards returns what moves a posting back. That reserved stock was handed out
// stays so.
func backwards(ctx context.Context, tx db.Tx, p db.Posting) (back []db.Movement, err error) {
	moves, err := tx.Movements(ctx, p.ID)
	if err != nil {
		return nil, err
	}
	codes := make([]string, len(moves))
	for i, m := range moves {
		codes[i] = m.Lot
	}
	lots, err := tx.LockLots(ctx, codes...)
	if err != nil {
		return nil, err
	}
	if done, err := tx.IsReversed(ctx, p.ID); err != nil || done { // under the lock of its lots
		return nil, errors.Join(err, &Refusal{Reversed})
	}
	at := map[string]*db.Lot{}
	for i := range lots {
		at[lots[i].Code] = &lots[i]
	}
	for i := len(moves) - 1; i >= 0; i-- {
		m, l := moves[i], at[moves[i].Lot]
		if m.Kind == postIssue && m.Source == reserved {
			continue
		}
		if m.Target == free && l.Counted {
			if l.Free -= m.Amount; l.Free < 0 {
				return nil, &Refusal{NotReversing}
			}
		}
		back = append(back, db.Movement{Kind: m.Kind, Lot: m.Lot, Source: m.Target, Target: m.Source, Amount: m.Amount})
		if err := relist(ctx, tx, m, l); err != nil {
			return nil, err
		}
	}
	return back, nil
}

// relist brings the stock that an offcut is in line with what is taken back.
func relist(ctx context.Context, tx db.Tx, m db.Movement, l *db.Lot) error {
	switch {
	case l.Kind != string(stores.Offcut):
		return nil
	case m.Kind == moveOffcut:
		return withdraw(ctx, tx, l.Item)
	case m.Target == used || m.Target == spoiled:
		return offer(ctx, tx, l.Item)
	}
	return nil
}
