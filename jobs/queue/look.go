package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"

	"github.com/google/uuid"
)

// look parts the members of a set that are ready into groups, once none is worked out
// any more, and has the loads of each group laid. What is laid for the same members
// already stays; loads that were handed out stay whatever becomes of the set.
func (q classes) look(ctx context.Context, set uuid.UUID) error {
	var l *look
	err := q.store.InTx(ctx, func(tx db.Tx) error {
		s, err := tx.LockClassSet(ctx, db.AnyClient, set)
		if errors.Is(err, db.ErrNotFound) {
			return nil // erased meanwhile
		}
		if err != nil {
			return err
		}
		if err := tx.Looked(ctx, set); err != nil {
			return err
		}
		l = &look{move: &move{Queue: q.Queue, tx: tx}, set: s}
		if err := l.run(ctx); err != nil {
			return err
		}
		if err := q.tellClass(ctx, tx, set); err != nil {
			return err
		}
		return q.refillAfter(ctx, tx, l.move)
	})
	if err == nil && l != nil {
		q.note(ctx, l.move)
	}
	return err
}

// look is one look at a set, within a transaction that has locked it.
type look struct {
	*move
	set    db.ClassSet
	terms  class.Terms
	groups []*group
	issued []db.ClassLoad
}

// group is a group of the set as it is kept.
type group struct {
	db.ClassGroup
	request *plan.Request
	parts   []db.ClassPart
	digest  *class.Group // nil until it is ready
	issued  []int        // its loads that were handed out
}

// sharer is a member that is ready.
type sharer struct {
	db.ClassSharer
	request *plan.Request
}

func (l *look) run(ctx context.Context) error {
	if l.cfg.Sharing == nil {
		return nil
	}
	members, err := l.tx.ClassSharers(ctx, l.set.ID, l.cfg.Sharing.From)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(members, func(m db.ClassSharer) bool { return !plan.Status(m.Status).Settled() }) {
		return nil // the last to settle has it looked at again
	}
	if err := l.load(ctx); err != nil {
		return err
	}
	if err := l.mark(ctx, members); err != nil {
		return err
	}
	var ready []*sharer
	for _, m := range members {
		if plan.Status(m.Status) != plan.Ready || m.Map == "" {
			continue
		}
		r, err := RequestOf(m.Plan)
		if err != nil {
			return err
		}
		ready = append(ready, &sharer{m, r})
	}
	return l.reconcile(ctx, share.Groups(ready, func(m *sharer) share.Terms { return class.TermsOf(m.request) }))
}

// load reads the terms of the set and the groups there are.
func (l *look) load(ctx context.Context) error {
	if err := json.Unmarshal(l.set.Terms, &l.terms); err != nil {
		return fmt.Errorf("queue: the terms of class set %s: %w", l.set.ID, err)
	}
	kept, err := l.tx.ClassGroups(ctx, l.set.ID)
	if err != nil {
		return err
	}
	parts, err := l.tx.ClassParts(ctx, l.set.ID)
	if err != nil {
		return err
	}
	if l.issued, err = l.tx.ClassLoads(ctx, l.set.ID); err != nil {
		return err
	}
	for _, g := range kept {
		one := &group{ClassGroup: g, request: &plan.Request{}}
		if err := json.Unmarshal(g.Request, one.request); err != nil {
			return fmt.Errorf("queue: the request of group %s: %w", g.ID, err)
		}
		if one.digest, err = groupDigest(g); err != nil {
			return err
		}
		for _, p := range parts {
			if p.Group == g.ID {
				one.parts = append(one.parts, p)
			}
		}
		for _, load := range l.issued {
			if load.Group == g.ID {
				one.issued = append(one.issued, load.Load)
			}
		}
		l.groups = append(l.groups, one)
	}
	return nil
}

// groupDigest reads what callers read of a group; nil where it is not ready.
func groupDigest(g db.ClassGroup) (*class.Group, error) {
	if g.Digest == nil {
		return nil, nil
	}
	var d class.Group
	if err := json.Unmarshal(g.Digest, &d); err != nil {
		return nil, fmt.Errorf("queue: the digest of group %s: %w", g.ID, err)
	}
	return &d, nil
}

// mark decides what the work of members is marked with: their places in the order of
// references while nothing is handed out, so that it does not matter who came first;
// after that what is marked stays, and the next numbers follow.
func (l *look) mark(ctx context.Context, members []db.ClassSharer) error {
	references, codes := make([]string, len(members)), make([]int, len(members))
	next := 0
	for _, m := range members {
		if len(l.issued) > 0 {
			next = max(next, m.Code)
		}
	}
	for _, g := range l.groups {
		for _, p := range g.parts {
			if len(g.issued) > 0 {
				next = max(next, p.Code) // also of a member that has left
			}
		}
	}
	for i := range members {
		if len(l.issued) == 0 || members[i].Code == 0 {
			next++
			members[i].Code = next
		}
		references[i], codes[i] = members[i].Reference, members[i].Code
	}
	return l.tx.SetClassCodes(ctx, l.set.ID, references, codes)
}
