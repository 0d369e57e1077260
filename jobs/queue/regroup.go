package queue

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"

	"github.com/google/uuid"
)

// The states of a group.
const (
	groupWorking = "working"
	groupReady   = "ready"
	groupFailed  = "failed"
)

// codeText is what the work of a member is marked with.
func codeText(code int) string { return fmt.Sprintf("%02d", code) }

// reconcile keeps the groups whose members lie as they are wanted, retires the others,
// and begins new ones.
func (l *look) reconcile(ctx context.Context, wanted []share.Group[*sharer]) error {
	current := map[share.Terms]*group{}
	for _, g := range l.groups {
		if g.Current {
			current[class.TermsOf(g.request)] = g
		}
	}
	for place, want := range wanted {
		g := current[want.Terms]
		delete(current, want.Terms)
		if err := l.regroup(ctx, place, g, want.Members); err != nil {
			return err
		}
	}
	for _, g := range l.groups { // in their order
		if current[class.TermsOf(g.request)] == g {
			if err := l.retire(ctx, g); err != nil {
				return err
			}
		}
	}
	return nil
}

// regroup has members lie on common loads: as the group has them, where it is of the
// same ones, or else anew but for what is handed out.
func (l *look) regroup(ctx context.Context, place int, g *group, members []*sharer) error {
	common := l.terms.Common(newest(members))
	if g != nil {
		wanted := l.lacking(members, g)
		nodes, err := l.nodes(common, wanted)
		if err != nil {
			return err
		}
		if sameParts(g.parts, wanted) && (g.Status != groupWorking || slices.Equal(g.Keys, keysOfNodes(nodes))) {
			g.Place = place
			if err := l.tx.SetClassGroup(ctx, g.ClassGroup); err != nil || g.Status != groupWorking {
				return err
			}
			return l.advance(ctx, g, nodes)
		}
		if err := l.retire(ctx, g); err != nil {
			return err
		}
	}
	wanted := l.lacking(members, nil)
	if len(wanted) == 0 {
		return nil // all is handed out
	}
	nodes, err := l.nodes(common, wanted)
	if err != nil {
		return err
	}
	text, err := json.Marshal(common)
	if err != nil {
		return fmt.Errorf("queue: the request of a group: %w", err)
	}
	added, err := l.tx.AddClassGroup(ctx, db.ClassGroup{
		Set: l.set.ID, Place: place, Request: text, Keys: keysOfNodes(nodes), Status: groupWorking,
	}, wanted)
	if err != nil {
		return err
	}
	return l.advance(ctx, &group{ClassGroup: added, request: common, parts: wanted}, nodes)
}

// newest returns the request of a member that was made with the newest data of the
// workshop.
func newest(members []*sharer) *plan.Request {
	return slices.MaxFunc(members, func(a, b *sharer) int { return a.Created.Compare(b.Created) }).request
}

// lacking are the copies of members that are not on loads handed out, but for those of
// the group itself: by their codes, as the parts of a group are.
func (l *look) lacking(members []*sharer, but *group) []db.ClassPart {
	var all []db.ClassPart
	for _, m := range members {
		n := m.request.Copies
		for _, g := range l.groups {
			if but == nil || g.ID != but.ID {
				n -= g.handedOut(m)
			}
		}
		if n > 0 {
			all = append(all, db.ClassPart{Code: m.Code, Reference: m.Reference, Plan: m.ID, Map: m.Map, Copies: n})
		}
	}
	slices.SortFunc(all, func(a, b db.ClassPart) int { return a.Code - b.Code })
	return all
}

// handedOut is how many copies of a member's drawing are on loads of the group that
// were handed out. Of a drawing that was replaced none count for the new one.
func (g *group) handedOut(m *sharer) int {
	at := slices.IndexFunc(g.parts, func(p db.ClassPart) bool { return p.Reference == m.Reference && p.Map == m.Map })
	if at < 0 || g.digest == nil {
		return 0
	}
	n := 0
	for _, load := range g.digest.Loads {
		for _, p := range load.Placed {
			if p.Code == codeText(g.parts[at].Code) && slices.Contains(g.issued, load.Number) {
				n += p.Copies
			}
		}
	}
	return n
}

// sameParts says whether the same drawings lie there, as often and marked alike.
func sameParts(has, wanted []db.ClassPart) bool {
	return slices.EqualFunc(has, wanted, func(a, b db.ClassPart) bool {
		return a.Code == b.Code && a.Map == b.Map && a.Copies == b.Copies && a.Plan == b.Plan
	})
}

// retire ends a group: it is kept for its loads that were handed out, or goes with its
// results where there are none.
func (l *look) retire(ctx context.Context, g *group) error {
	if len(g.issued) > 0 {
		g.Current = false
		return l.tx.SetClassGroup(ctx, g.ClassGroup)
	}
	l.groups = slices.DeleteFunc(slices.Clone(l.groups), func(one *group) bool { return one == g })
	return l.dropGroup(ctx, g.ClassGroup)
}

// dropGroup removes a group, what is worked on for it alone, and its results. It locks
// the keys first: a worker that hands some of them in at this moment is done before, and
// what it brought goes too, or finds afterwards that the work is nobody's.
func (m *move) dropGroup(ctx context.Context, g db.ClassGroup) error {
	if err := m.tx.LockKeys(ctx, g.Keys...); err != nil {
		return err
	}
	held, err := m.tx.GroupWaitsFor(ctx, g.ID)
	if err != nil {
		return err
	}
	if err := m.tx.DropClassGroup(ctx, g.ID); err != nil {
		return err
	}
	for _, h := range held {
		if err := m.trim(ctx, h.Job); err != nil {
			return err
		}
	}
	_, err = m.tx.EraseResults(ctx, g.Keys...)
	return err
}

// nodes are those of a group.
func (l *look) nodes(common *plan.Request, parts []db.ClassPart) ([]jobs.Node, error) {
	if len(parts) == 0 {
		return nil, nil
	}
	members := make([]jobs.Sharer, len(parts))
	for i, p := range parts {
		members[i] = jobs.Sharer{Member: share.Member{Code: codeText(p.Code), Copies: p.Copies}, Map: jobs.Key(p.Map)}
	}
	return l.cfg.Sharing.Nodes(common, members)
}

func keysOfNodes(nodes []jobs.Node) []string {
	keys := make([]string, len(nodes))
	for i, n := range nodes {
		keys[i] = string(n.Key)
	}
	return keys
}

// setsOf lists the sets of groups, each once.
func setsOf(groups []db.ClassGroup) []uuid.UUID {
	var sets []uuid.UUID
	for _, g := range groups {
		if !slices.Contains(sets, g.Set) {
			sets = append(sets, g.Set)
		}
	}
	return sets
}
