package queue

import (
	"context"
	"errors"

	"knifedesk/db"

	"github.com/google/uuid"
)

// EraseClassSet removes a set of client with its roster, its members' plans, also
// those that were superseded, and the drawings that are then without a plan. It
// fails with a *ledger.Refusal while stock of a member is handed out.
func (q erasing) EraseClassSet(ctx context.Context, client string, id uuid.UUID) error {
	for {
		if _, err := q.store.ClassSet(ctx, client, id); err != nil {
			return err
		}
		if err := q.eraseMembers(ctx, id); err != nil {
			return err
		}
		if err := q.eraseSet(ctx, client, id); !errors.Is(err, db.ErrInUse) {
			return err
		}
	}
}

// eraseMembers removes the plans of a set and their drawings.
func (q erasing) eraseMembers(ctx context.Context, set uuid.UUID) error {
	made, err := q.store.ClassHistory(ctx, set)
	if err != nil {
		return err
	}
	drawings := map[uuid.UUID]bool{}
	for _, id := range made {
		p, err := q.store.Plan(ctx, db.AnyClient, id)
		if err == nil {
			err = q.Erase(ctx, db.AnyClient, id)
		}
		if errors.Is(err, db.ErrNotFound) {
			continue
		}
		if err != nil {
			return err
		}
		drawings[p.Drawing] = true
	}
	for id := range drawings {
		_, err := q.eraseDrawing(ctx, db.AnyClient, id)
		if err != nil && !errors.Is(err, db.ErrNotFound) && !errors.Is(err, db.ErrInUse) {
			return err
		}
	}
	return nil
}

// eraseSet removes a set that has no members; db.ErrInUse where it has.
func (q erasing) eraseSet(ctx context.Context, client string, id uuid.UUID) error {
	return q.store.InTx(ctx, func(tx db.Tx) error {
		if _, err := tx.LockClassSet(ctx, client, id); err != nil {
			return err
		}
		switch left, err := tx.ClassMembers(ctx, id); {
		case err != nil:
			return err
		case len(left) > 0:
			return db.ErrInUse
		}
		return tx.EraseClassSet(ctx, id)
	})
}
