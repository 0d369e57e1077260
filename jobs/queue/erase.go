package queue

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/erasures"
	"knifedesk/jobs/queue/ledger"

	"github.com/google/uuid"
)

// erasing is what a queue does to take away what it has kept.
type erasing struct{ *Queue }

// Erase removes a plan of client, however it stands, and the results that no
// other plan reaches. What is worked on for it alone stops, what is held for it
// is free, and the ledger keeps the amounts without a name. It fails with a
// *ledger.Refusal while its stock is handed out.
func (q erasing) Erase(ctx context.Context, client string, id uuid.UUID) error {
	_, err := q.erase(ctx, client, id)
	return err
}

// erase is Erase, and returns how many results went.
func (q erasing) erase(ctx context.Context, client string, id uuid.UUID) (gone int64, err error) {
	_, err = q.lockedAfter(ctx, client, id, q.holdClasses, func(m *move) error {
		if err := m.leave(ctx); err != nil {
			return err
		}
		if err := ledger.Forget(ctx, m.tx, id); err != nil {
			return err
		}
		if err := q.leaveClasses(ctx, m); err != nil {
			return err
		}
		keys, err := m.tx.ErasePlan(ctx, id)
		if err != nil {
			return err
		}
		reading, err := q.readingOf(m.plan.Hash) // which is the drawing's and stays with it, where no convention's layers bear on it
		if err != nil {
			return err
		}
		keys = slices.DeleteFunc(keys, func(k string) bool { return k == reading })
		gone, err = m.tx.EraseResults(ctx, keys...)
		return err
	})
	return gone, err
}

// lockedAfter is locked, and runs first what has to be locked before a plan.
func (q *Queue) lockedAfter(ctx context.Context, client string, id uuid.UUID, first func(context.Context, db.Tx, uuid.UUID) error, do func(*move) error) (Plan, error) {
	var m *move
	err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
		if err := first(ctx, tx, id); err != nil {
			return err
		}
		held, err := q.hold(ctx, tx, client, id)
		if err != nil {
			return err
		}
		if len(held) == 0 {
			return db.ErrNotFound
		}
		m = held[0]
		if err := do(m); err != nil {
			return err
		}
		return q.refillAfter(ctx, tx, m)
	})
	if err != nil {
		return Plan{}, err
	}
	q.note(ctx, m)
	return planOf(m.plan), nil
}

// readingOf is the key of what the first job makes of a file alone.
func (q erasing) readingOf(hash []byte) (string, error) {
	if len(hash) != sha256.Size {
		return "", fmt.Errorf("queue: a hash of %d bytes", len(hash))
	}
	n, err := jobs.NewNode(q.rows[0], &plan.Request{}, [sha256.Size]byte(hash))
	return string(n.Key), err
}

// EraseDrawing removes a drawing of client and, where no other has the same
// bytes, those and what was read in them. With plans it removes first what was
// planned of it; without, db.ErrInUse says that there is something.
func (q erasing) EraseDrawing(ctx context.Context, client string, id uuid.UUID, plans bool) error {
	for {
		_, err := q.eraseDrawing(ctx, client, id)
		if !plans || !errors.Is(err, db.ErrInUse) {
			return err
		}
		made, err := q.store.PlansOfDrawing(ctx, client, id)
		if err != nil {
			return err
		}
		for _, p := range made {
			if err := q.Erase(ctx, client, p); err != nil && !errors.Is(err, db.ErrNotFound) {
				return err
			}
		}
	}
}

func (q erasing) eraseDrawing(ctx context.Context, client string, id uuid.UUID) (gone int64, err error) {
	err = q.store.InTx(ctx, func(tx db.Tx) error {
		gone = 0
		hash, err := tx.EraseDrawing(ctx, client, id)
		if err != nil || hash == nil {
			return err
		}
		reading, err := q.readingOf(hash)
		if err == nil {
			gone, err = tx.EraseResults(ctx, reading)
		}
		return err
	})
	return gone, err
}

// Erased is what an erasure took away, or would.
type Erased struct {
	ClassSets       int
	Plans, Drawings int         // with those of the sets
	Results         int64       // not counted by a dry run
	Kept            []uuid.UUID // plans whose stock is handed out
}

// EraseAll removes all class sets and plans that are picked, the drawings that are
// then without one, and their results. What is shared with others stays for them. A
// reference goes from the rosters too. With dry it only counts. It stops at the
// first fault, and can be called again.
func (q erasing) EraseAll(ctx context.Context, e db.Erasable, dry bool) (Erased, error) {
	sets, err := q.store.ErasableClassSets(ctx, e)
	if err != nil {
		return Erased{}, err
	}
	plans, err := q.erasablePlans(ctx, e, sets)
	if err != nil {
		return Erased{}, err
	}
	drawings, err := q.store.ErasableDrawings(ctx, e, plans)
	if err != nil {
		return Erased{}, err
	}
	if dry {
		return Erased{ClassSets: len(sets), Plans: len(plans), Drawings: len(drawings)}, nil
	}
	out := Erased{}
	if err := q.erasePlans(ctx, &out, e.Client, plans); err != nil {
		return out, err
	}
	for _, id := range sets {
		switch err := q.eraseSet(ctx, e.Client, id); {
		case errors.Is(err, db.ErrInUse), errors.Is(err, db.ErrNotFound): // a member is kept or new, or another erased it
		case err != nil:
			return out, err
		default:
			out.ClassSets++
		}
	}
	if err := q.eraseDrawings(ctx, &out, e.Client, drawings); err != nil || e.Reference == "" {
		return out, err
	}
	return out, q.store.InTx(ctx, func(tx db.Tx) error {
		if err := tx.ForgetReference(ctx, e.Client, e.Reference); err != nil {
			return err
		}
		return tx.NoteErased(ctx, db.ErasedReference, erasures.NewSum(e.Client, e.Reference))
	})
}

// erasablePlans lists the plans that are picked, and those of the sets that are.
func (q erasing) erasablePlans(ctx context.Context, e db.Erasable, sets []uuid.UUID) ([]uuid.UUID, error) {
	plans, err := q.store.ErasablePlans(ctx, e)
	if err != nil {
		return nil, err
	}
	for _, set := range sets {
		more, err := q.store.ClassHistory(ctx, set)
		if err != nil {
			return nil, err
		}
		plans = append(plans, slices.DeleteFunc(more, func(id uuid.UUID) bool { return slices.Contains(plans, id) })...)
	}
	return plans, nil
}

func (q erasing) erasePlans(ctx context.Context, out *Erased, client string, plans []uuid.UUID) error {
	for _, id := range plans {
		gone, err := q.erase(ctx, client, id)
		var refusal *ledger.Refusal
		switch {
		case errors.As(err, &refusal):
			out.Kept = append(out.Kept, id)
		case errors.Is(err, db.ErrNotFound): // another erased it
		case err != nil:
			return err
		default:
			out.Plans++
			out.Results += gone
		}
	}
	return nil
}

func (q erasing) eraseDrawings(ctx context.Context, out *Erased, client string, drawings []uuid.UUID) error {
	for _, id := range drawings {
		gone, err := q.eraseDrawing(ctx, client, id)
		switch {
		case errors.Is(err, db.ErrNotFound), errors.Is(err, db.ErrInUse): // of a plan that is kept or new
		case err != nil:
			return err
		default:
			out.Drawings++
			out.Results += gone
		}
	}
	return nil
}
