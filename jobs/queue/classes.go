package queue

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/class"

	"github.com/google/uuid"
)

// ErrShut: the class set takes no more drawings.
var ErrShut = errors.New("queue: the class set is closed")

// ErrSetFull: the class set would have more members than one may have.
var ErrSetFull = errors.New("queue: the class set is full")

// ErrNoMember: the class set has no member of this reference.
var ErrNoMember = errors.New("queue: no such member")

// MemberError says of which member's drawing something is wrong.
type MemberError struct {
	Reference string
	Err       error
}

func (e *MemberError) Error() string {
	return fmt.Sprintf("queue: member %q: %v", e.Reference, e.Err)
}
func (e *MemberError) Unwrap() error { return e.Err }

// classes is what a queue does for class sets. A set is locked before all else
// that a transaction locks.
type classes struct{ *Queue }

// AddClassSet keeps a new set with its roster and its first members, all or
// nothing. Of a member it reads what Submit does, and its ClientReference, which
// is its reference in the set. with runs in the same transaction.
func (q classes) AddClassSet(ctx context.Context, s db.ClassSet, roster []string, members []SubmitParams, with func(db.Tx, uuid.UUID) error) (uuid.UUID, error) {
	var made db.ClassSet
	_, err := q.taking(ctx, func(tx db.Tx, in *intake) (err error) {
		if made, err = tx.AddClassSet(ctx, s); err != nil {
			return err
		}
		if err := tx.SetClassRoster(ctx, made.ID, roster); err != nil {
			return err
		}
		if err := in.take(ctx, made, members); err != nil {
			return err
		}
		if err := q.lookLater(ctx, tx, made.ID); err != nil {
			return err
		}
		return with(tx, made.ID)
	})
	return made.ID, err
}

// AddMembers adds drawings to a set of client, all or none. One whose reference
// the set has already takes the place of that member, whose plan it supersedes;
// where that was still worked out it is cancelled. ErrShut: the set takes none.
func (q classes) AddMembers(ctx context.Context, client string, set uuid.UUID, members []SubmitParams, with func(db.Tx) error) error {
	replaced, err := q.taking(ctx, func(tx db.Tx, in *intake) error {
		s, err := tx.LockClassSet(ctx, client, set)
		if err != nil {
			return err
		}
		if s.Shut {
			return ErrShut
		}
		if err := in.take(ctx, s, members); err != nil {
			return err
		}
		if err := errors.Join(tx.TouchClassSet(ctx, set), q.lookLater(ctx, tx, set)); err != nil {
			return err
		}
		return with(tx)
	})
	if err != nil {
		return err
	}
	for _, old := range replaced {
		if _, err := q.Cancel(ctx, db.AnyClient, old); err != nil && !errors.Is(err, db.ErrNotFound) {
			q.log.Warn("a superseded plan goes on", "plan", old, "err", err) // which does no harm
		}
	}
	return nil
}

// intake takes members in within a transaction.
type intake struct {
	*Queue
	tx       db.Tx
	moves    []*move
	replaced []uuid.UUID
}

// taking runs do in a transaction and returns the plans that others have replaced.
func (q classes) taking(ctx context.Context, do func(db.Tx, *intake) error) ([]uuid.UUID, error) {
	var in *intake
	err := q.store.InTx(ctx, func(tx db.Tx) error {
		in = &intake{Queue: q.Queue, tx: tx}
		if err := do(tx, in); err != nil {
			return err
		}
		return in.refill(ctx)
	})
	if err != nil {
		return nil, err
	}
	noteSubmitted(ctx, q.Queue, in.moves...)
	return in.replaced, nil
}

// refill admits what was taken in, as the last that the transaction does.
func (in *intake) refill(ctx context.Context) error {
	for _, m := range in.moves {
		if m.stirred {
			return in.refillAfter(ctx, in.tx, m)
		}
	}
	return nil
}

func (in *intake) take(ctx context.Context, s db.ClassSet, members []SubmitParams) error {
	before, err := in.tx.ClassMembers(ctx, s.ID)
	if err != nil {
		return err
	}
	has := map[string]uuid.UUID{}
	for _, m := range before {
		has[m.Reference] = m.Plan
	}
	ordered := slices.SortedFunc(slices.Values(members), func(a, b SubmitParams) int { return cmp.Compare(a.ClientReference, b.ClientReference) })
	for _, m := range ordered {
		m.Client = s.Client
		if old, ok := has[m.ClientReference]; ok {
			m.Supersedes = &old
			in.replaced = append(in.replaced, old)
		}
		made, err := submit(ctx, in.Queue, in.tx, m)
		if err != nil {
			return &MemberError{m.ClientReference, err}
		}
		in.moves = append(in.moves, made)
		has[m.ClientReference] = made.plan.ID
		if err := in.tx.PutClassMember(ctx, db.ClassMember{Set: s.ID, Reference: m.ClientReference, Plan: made.plan.ID}); err != nil {
			return err
		}
	}
	if len(has) > class.MostMembers {
		return ErrSetFull
	}
	return nil
}

// DropMember takes a member out of a set of client; its plan is cancelled where it
// is still worked out, and stays otherwise. ErrShut: the set does not change any
// more.
func (q classes) DropMember(ctx context.Context, client string, set uuid.UUID, reference string) error {
	var dropped uuid.UUID
	err := q.store.InTx(ctx, func(tx db.Tx) error {
		s, err := tx.LockClassSet(ctx, client, set)
		if err != nil {
			return err
		}
		if s.Shut {
			return ErrShut
		}
		members, err := tx.ClassMembers(ctx, set)
		if err != nil {
			return err
		}
		at := slices.IndexFunc(members, func(m db.ClassMember) bool { return m.Reference == reference })
		if at < 0 {
			return ErrNoMember
		}
		dropped = members[at].Plan
		if err := tx.DropClassMember(ctx, set, reference); err != nil {
			return err
		}
		return errors.Join(tx.TouchClassSet(ctx, set), q.lookLater(ctx, tx, set))
	})
	if err != nil {
		return err
	}
	_, err = q.Cancel(ctx, db.AnyClient, dropped)
	if errors.Is(err, db.ErrNotFound) {
		return nil
	}
	return err
}

// ChangeClassSet changes a set of client, and its roster where one is given.
func (q classes) ChangeClassSet(ctx context.Context, client string, id uuid.UUID, roster []string, alter func(*db.ClassSet) error) error {
	return q.store.InTx(ctx, func(tx db.Tx) error {
		s, err := tx.LockClassSet(ctx, client, id)
		if err != nil {
			return err
		}
		if err := alter(&s); err != nil {
			return err
		}
		if err := tx.ChangeClassSet(ctx, s); err != nil {
			return err
		}
		if roster != nil {
			if err := tx.SetClassRoster(ctx, id, roster); err != nil {
				return err
			}
		}
		return q.tellClass(ctx, tx, id)
	})
}
