package queue

import (
	"context"
	"errors"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"

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
		groups, err := tx.ClassGroups(ctx, id)
		if err != nil {
			return err
		}
		m := &move{Queue: q.Queue, tx: tx}
		for _, g := range groups {
			if err := m.dropGroup(ctx, g); err != nil {
				return err
			}
		}
		if err := tx.EraseClassSet(ctx, id); err != nil {
			return err
		}
		return q.refillAfter(ctx, tx, m)
	})
}

// holdClasses locks the class sets that a plan is in, before the plan itself: a look that
// lays them anew meanwhile would put it on loads again, or drop a group at the same time.
func (q erasing) holdClasses(ctx context.Context, tx db.Tx, id uuid.UUID) error {
	sets, err := tx.SetsOf(ctx, id)
	if err != nil {
		return err
	}
	for _, set := range sets {
		if _, err := tx.LockClassSet(ctx, db.AnyClient, set); err != nil && !errors.Is(err, db.ErrNotFound) {
			return err
		}
	}
	return nil
}

// leaveClasses takes a plan that is erased out of the class sets, with the results of
// the loads that it lies on. Of loads that were handed out and are done the numbers
// stay. It fails with a *ledger.Refusal while one of its loads is handed out.
func (q erasing) leaveClasses(ctx context.Context, m *move) error {
	sets, err := m.tx.SetsOf(ctx, m.plan.ID)
	if err != nil || len(sets) == 0 {
		return err
	}
	groups, err := m.tx.ClassGroupsOf(ctx, m.plan.ID)
	if err != nil {
		return err
	}
	for _, g := range groups {
		loads, err := m.tx.ClassLoads(ctx, g.Set)
		if err != nil {
			return err
		}
		if err := leaveGroup(ctx, m, g, slices.DeleteFunc(loads, func(l db.ClassLoad) bool { return l.Group != g.ID })); err != nil {
			return err
		}
	}
	return q.lookLater(ctx, m.tx, sets...)
}

// leaveGroup takes the plan out of a group of which these loads were handed out.
func leaveGroup(ctx context.Context, m *move, g db.ClassGroup, issued []db.ClassLoad) error {
	if len(issued) == 0 {
		return m.dropGroup(ctx, g)
	}
	holds, err := loadsOf(ctx, m, g)
	if err != nil {
		return err
	}
	for _, l := range issued {
		if l.Done == nil && slices.Contains(holds, l.Load) {
			return &ledger.Refusal{Code: ledger.AlreadyOut}
		}
	}
	keys := g.Keys
	g.Keys, g.Current = []string{}, false
	if err := m.tx.EmptyClassGroup(ctx, g.ID, m.plan.ID); err != nil {
		return err
	}
	if err := m.tx.SetClassGroup(ctx, g); err != nil {
		return err
	}
	_, err = m.tx.EraseResults(ctx, keys...)
	return err
}

// loadsOf lists the loads of a group that the plan lies on.
func loadsOf(ctx context.Context, m *move, g db.ClassGroup) ([]int, error) {
	digest, err := groupDigest(g)
	if err != nil || digest == nil {
		return nil, err
	}
	parts, err := m.tx.ClassParts(ctx, g.Set)
	if err != nil {
		return nil, err
	}
	var loads []int
	for _, p := range parts {
		if p.Group == g.ID && p.Plan == m.plan.ID {
			loads = append(loads, digest.LoadsOf(codeText(p.Code))...)
		}
	}
	return loads, nil
}
