package queue

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/view"
)

// advance takes a group on until it waits for a result or is ready.
func (l *look) advance(ctx context.Context, g *group, nodes []jobs.Node) error {
	names := make([]string, len(nodes))
	for i, n := range nodes {
		names[i] = n.Row.Name
	}
	heads, err := l.tx.Heads(ctx, names, g.Keys)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(heads, func(h db.PlanHead) bool { return !h.There })
	if at > 0 {
		var d view.Digest
		if err := json.Unmarshal(heads[0].Digest, &d); err != nil {
			return fmt.Errorf("queue: the digest of %s: %w", heads[0].Key, err)
		}
		if laidNothing(d) {
			return l.ready(ctx, g, heads[:at])
		}
	}
	if at < 0 {
		return l.ready(ctx, g, heads)
	}
	return l.waitFor(ctx, g, nodes[at:])
}

// ready gathers what callers read of a group from its results.
func (l *look) ready(ctx context.Context, g *group, heads []db.PlanHead) error {
	keys := make([]string, len(heads))
	for i, h := range heads {
		keys[i] = h.Key
	}
	stored, err := l.tx.Results(ctx, keys...)
	if err != nil {
		return err
	}
	all := jobs.Results{}
	for _, r := range stored {
		if all[r.Stage], err = decode(ctx, l.all[l.place(r.Stage)], r); err != nil {
			return err
		}
	}
	g.Status = groupReady
	if g.Digest, err = json.Marshal(l.cfg.Sharing.Digest(g.request, all)); err != nil {
		return fmt.Errorf("queue: the digest of group %s: %w", g.ID, err)
	}
	return l.tx.SetClassGroup(ctx, g.ClassGroup)
}

// waitFor has a group wait for the first of the nodes, as far along the span that
// computes it as these go, and makes sure that a job computes it.
func (l *look) waitFor(ctx context.Context, g *group, missing []jobs.Node) error {
	keys := keysOfNodes(missing)
	there, others, err := l.tx.LockMissing(ctx, keys...)
	if err != nil {
		return err
	}
	if there { // it has come in at this moment
		return db.ErrAgain
	}
	if at := slices.IndexFunc(others, func(w db.Work) bool { return w.Key == keys[0] }); at >= 0 {
		return l.tx.GroupWaitFor(ctx, g.ID, goalOf(others[at].Job, keys, others))
	}
	var span []db.Work
	for i := range missing {
		if slices.ContainsFunc(others, func(w db.Work) bool { return w.Key == keys[i] }) {
			break
		}
		w := workOn(&missing[i], db.Batch)
		w.Place = len(span)
		span = append(span, w)
	}
	first := &span[0]
	first.Client, first.Plan, first.List = l.set.Client, l.set.ID, l.list
	first.Cost = l.rowOf(*first).Estimate(first.Reads, view.Counts{})
	first.Heavy = first.Cost > long
	if err := l.tx.AddWork(ctx, span...); err != nil {
		return err
	}
	l.stirred = true
	return l.tx.GroupWaitFor(ctx, g.ID, span[len(span)-1].Key)
}
