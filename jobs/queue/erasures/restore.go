package erasures

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"knifedesk/db"

	"github.com/google/uuid"
)

// Eraser erases, as the queue does.
type Eraser interface {
	Erase(ctx context.Context, client string, plan uuid.UUID) error
	EraseClassSet(ctx context.Context, client string, set uuid.UUID) error
	EraseDrawing(ctx context.Context, client string, drawing uuid.UUID, plans bool) error
}

// Keeper keeps the list and the database alike.
type Keeper struct {
	Journal *Journal
	Store   *db.DB
	Eraser  Eraser
	Log     *slog.Logger
}

// settling is how much older than the newest on the list an erasure may be that is
// committed after it: how long a transaction that erases may take.
const settling = 10 * time.Minute

// Copy writes what the database has noted since onto the list.
func (k Keeper) Copy(ctx context.Context) error {
	erased, err := k.Store.ErasuresSince(ctx, k.Journal.newest().Add(-settling))
	if err != nil {
		return err
	}
	return k.Journal.add(erased)
}

// Restore erases again what is on the list and the database does not know of, as it
// was restored from an older copy. What still cannot go, such as a plan whose stock is
// handed out in that copy, is logged, and left for the next time.
func (k Keeper) Restore(ctx context.Context) error {
	known, err := k.Store.ErasuresSince(ctx, time.Time{})
	if err != nil {
		return err
	}
	there := map[string]bool{}
	for _, e := range known {
		there[e.What+" "+e.Which] = true
	}
	gone, left := 0, 0
	for _, what := range []string{db.ErasedPlan, db.ErasedClassSet, db.ErasedDrawing, db.ErasedReference, db.ErasedKey} {
		for _, e := range k.Journal.list() {
			if e.What != what || there[e.What+" "+e.Which] {
				continue
			}
			err := k.again(ctx, e)
			if err == nil {
				err = k.Store.NoteErased(ctx, e.What, e.Which)
			}
			if err != nil {
				left++
				k.Log.Warn("not erased again yet", "what", e.What, "which", e.Which, "err", err)
				continue
			}
			gone++
		}
	}
	if gone+left > 0 {
		k.Log.Info("erased again what was erased since this copy of the database", "erased", gone, "left", left)
	}
	return ctx.Err()
}

// again erases one thing. What is not there is erased.
func (k Keeper) again(ctx context.Context, e db.Erasure) error {
	if e.What == db.ErasedReference {
		return k.offRosters(ctx, e.Which)
	}
	id, err := uuid.Parse(e.Which)
	if err != nil {
		return fmt.Errorf("erasures: %w", err)
	}
	switch e.What {
	case db.ErasedPlan:
		err = k.Eraser.Erase(ctx, db.AnyClient, id)
	case db.ErasedClassSet:
		err = k.Eraser.EraseClassSet(ctx, db.AnyClient, id)
	case db.ErasedDrawing:
		err = k.Eraser.EraseDrawing(ctx, db.AnyClient, id, false)
	case db.ErasedKey:
		err = k.Store.RevokeKey(ctx, id)
	}
	if errors.Is(err, db.ErrNotFound) {
		return nil
	}
	return err
}

// offRosters takes the reference of a sum off the rosters that it stands on.
func (k Keeper) offRosters(ctx context.Context, sum string) error {
	all, err := k.Store.ExpectedReferences(ctx)
	if err != nil {
		return err
	}
	for _, x := range all {
		for _, client := range []string{x.Client, db.AnyClient} {
			if !isSum(sum, client, x.Reference) {
				continue
			}
			err := k.Store.InTx(ctx, func(tx db.Tx) error { return tx.ForgetReference(ctx, client, x.Reference) })
			if err != nil {
				return err
			}
		}
	}
	return nil
}

// The pauses between two copies, and between two tries of what could not go.
const (
	copyEvery  = 5 * time.Second
	retryEvery = time.Hour
)

// Keep copies again and again until ctx ends, and once more then.
func (k Keeper) Keep(ctx context.Context) {
	tried := time.Now()
	for going := true; going; {
		select {
		case <-ctx.Done():
			going = false
		case <-time.After(copyEvery):
		}
		if going && time.Since(tried) > retryEvery {
			tried = time.Now()
			if err := k.Restore(ctx); err != nil && ctx.Err() == nil {
				k.Log.Warn("what was erased before is not looked for", "err", err)
			}
		}
		k.copyNow(ctx)
	}
}

// copyNow copies, also where ctx has ended.
func (k Keeper) copyNow(ctx context.Context) {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), copyEvery)
	defer cancel()
	if err := k.Copy(ctx); err != nil {
		k.Log.Error("what was erased is not on the list outside the database yet", "err", err)
	}
}
