package queue

import (
	"context"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// wait has the plan wait for the result that it lacks, as far along the span
// that computes it as its own keys go, and makes sure that a job computes it.
func (m *move) wait(ctx context.Context, s *standing) error {
	missing := missingKeys(s)
	there, work, err := m.tx.LockMissing(ctx, missing...)
	if err != nil {
		return err
	}
	if there { // it has come in at this moment
		return m.on(ctx)
	}
	at := slices.IndexFunc(work, func(w db.Work) bool { return w.Key == s.next })
	var first db.Work
	var goal string
	switch {
	case at < 0:
		first, goal, err = m.begin(ctx, s, missing, work)
	case work[at].Queue == db.Batch && m.plan.Queue == db.Interactive && work[at].Started == nil:
		goal = goalOf(work[at].Job, missing, work)
		first, err = m.hurry(ctx, work[at]) // a person waits now
	default:
		first, goal = work[at], goalOf(work[at].Job, missing, work)
		err = m.join(ctx, first)
	}
	if err != nil {
		return err
	}
	s.status = plan.Queued
	if first.Started != nil || m.plan.Status == string(plan.Working) {
		s.status = plan.Working
	}
	if err := m.show(ctx, s, first.Started); err != nil {
		return err
	}
	return m.waitFor(ctx, goal)
}

// goalOf is the last key in a row, of those that the plan lacks, that a job
// computes.
func goalOf(job int64, missing []string, work []db.Work) string {
	goal := missing[0]
	for _, key := range missing {
		if !slices.ContainsFunc(work, func(w db.Work) bool { return w.Key == key && w.Job == job }) {
			break
		}
		goal = key
	}
	return goal
}

// missingKeys are those that the plan lacks, from the next on.
func missingKeys(s *standing) []string {
	var keys []string
	for _, h := range s.heads {
		if len(keys) > 0 && !h.There || h.Key == s.next {
			keys = append(keys, h.Key)
		}
	}
	return keys
}

// waitFor has the plan wait for one key of a job, and for nothing else.
func (m *move) waitFor(ctx context.Context, key string) error {
	if slices.ContainsFunc(m.held, func(h db.Waited) bool { return h.Key == key }) && len(m.held) == 1 {
		return nil
	}
	if err := m.tx.WaitFor(ctx, m.plan.ID, key); err != nil {
		return err
	}
	return m.leave(ctx, key)
}

// begin adds the work on the keys that the plan lacks, in a row from the first as
// far as nobody is at work on them: a span, which waits to be admitted. It returns
// the first of the work and the last of the keys.
func (m *move) begin(ctx context.Context, s *standing, missing []string, others []db.Work) (db.Work, string, error) {
	nodes, err := m.graph()
	if err != nil {
		return db.Work{}, "", err
	}
	var span []db.Work
	for i := range nodes {
		key := string(nodes[i].Key)
		if len(span) == len(missing) || key != missing[len(span)] {
			continue
		}
		if slices.ContainsFunc(others, func(w db.Work) bool { return w.Key == key }) {
			break
		}
		w := workOn(&nodes[i], m.plan.Queue)
		w.Place = len(span)
		span = append(span, w)
	}
	if len(span) == 0 {
		return db.Work{}, "", fmt.Errorf("queue: plan %s waits for a key that is not its own", m.plan.ID)
	}
	first := &span[0]
	first.Client, first.Plan, first.List = m.plan.Client, m.plan.ID, m.list
	first.Cost = m.rowOf(*first).Estimate(first.Reads, countsOf(s).With(view.Counts{Bytes: m.bytes}))
	first.Heavy = first.Cost > long
	m.stirred = true
	return *first, span[len(span)-1].Key, m.tx.AddWork(ctx, span...)
}

// countsOf is what is known of the drawing by the results that are there.
func countsOf(s *standing) (c view.Counts) {
	for _, p := range s.parts {
		c = c.With(p.Digest.Counts)
	}
	return c
}

// workOn is the work on a node, without an owner.
func workOn(n *jobs.Node, lane db.Queue) db.Work {
	w := db.Work{
		Key: string(n.Key), Stage: n.Row.Name, Revision: n.Row.Revision, Reads: n.Reads, Needs: []string{}, Queue: lane,
	}
	if n.File != nil {
		w.File = n.File[:]
	}
	for _, k := range n.Needs {
		w.Needs = append(w.Needs, string(k))
	}
	return w
}

// hurry has work that nobody was in a hurry for wait to be admitted as that of a
// person who waits. Its job, where it has one, has not begun.
func (m *move) hurry(ctx context.Context, w db.Work) (db.Work, error) {
	if err := m.cancelJob(ctx, w.Job); err != nil {
		return w, err
	}
	old := w.Job
	var err error
	if w.Job, err = m.tx.HurryWork(ctx, old); err != nil {
		return w, err
	}
	m.stirred = true
	for i := range m.held {
		if m.held[i].Job == old {
			m.held[i].Job = w.Job
		}
	}
	return w, m.join(ctx, w)
}

// join has work that waits to be admitted be as urgent as the plan.
func (m *move) join(ctx context.Context, w db.Work) error {
	if w.Job > 0 {
		return nil
	}
	m.stirred = true
	return m.tx.JoinSpan(ctx, m.fairness(), w.Job, m.plan.ID, m.plan.Client, m.plan.Queue)
}

// leave ends the waiting that the plan came with, but for the keys that it goes
// on waiting for. Of a span the rest goes that nobody waits for; where nobody
// waits for any of it the job is cancelled.
func (m *move) leave(ctx context.Context, but ...string) error {
	held := m.held
	m.held = nil
	var left []int64
	for _, h := range held {
		if slices.Contains(but, h.Key) {
			continue
		}
		if err := m.tx.LeaveKey(ctx, m.plan.ID, h.Key); err != nil {
			return err
		}
		if !slices.Contains(left, h.Job) {
			left = append(left, h.Job)
		}
	}
	for _, job := range left {
		if err := m.trim(ctx, job); err != nil {
			return err
		}
	}
	return nil
}

// trim gives up what nobody waits for of the span of a job.
func (m *move) trim(ctx context.Context, job int64) error {
	left, gone, err := m.tx.TrimWork(ctx, job)
	switch {
	case err != nil:
		return err
	case left == 0:
		m.stirred = true
		return m.cancelJob(ctx, job)
	case gone > 0 && job > 0:
		m.trimmed = append(m.trimmed, job)
		return m.tx.TellTrimmed(ctx, job)
	}
	return nil
}

// yield leaves the plan to the newer program that made it.
func (m *move) yield(ctx context.Context) error {
	if err := m.leave(ctx); err != nil {
		return err
	}
	return m.tx.SetStatus(ctx, m.plan.ID, string(plan.Queued), "", nil)
}
