package queue

import (
	"context"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
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
		first, goal, err = m.begin(ctx, missing, work)
	case work[at].Queue == db.Batch && m.plan.Queue == db.Interactive && work[at].Started == nil:
		goal = goalOf(work[at].Job, missing, work)
		first, err = m.giveToNewJob(ctx, work[at], db.Interactive) // a person waits now
	default:
		first, goal = work[at], goalOf(work[at].Job, missing, work)
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

// begin puts a job into the queue that computes the keys that the plan lacks, in
// a row from the first as far as nobody is at work on them: its span. It returns
// the first of the work and the last of the keys.
func (m *move) begin(ctx context.Context, missing []string, others []db.Work) (db.Work, string, error) {
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
	job, err := m.insert(ctx, m.span(span[0]), m.plan.Queue)
	if err != nil {
		return db.Work{}, "", err
	}
	for i := range span {
		span[i].Job = job
	}
	added, err := m.tx.AddWork(ctx, span...)
	if err == nil && len(added) < len(span) {
		err = db.ErrAgain // another began with some of it at this moment
	}
	return span[0], span[len(span)-1].Key, err
}

func (m *move) span(w db.Work) Span {
	return Span{Stage: w.Stage, List: m.list, Plan: m.plan.ID}
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

// giveToNewJob replaces the job of some work by one in another queue.
func (m *move) giveToNewJob(ctx context.Context, w db.Work, lane db.Queue) (db.Work, error) {
	if err := m.cancelJob(ctx, w.Job); err != nil {
		return w, err
	}
	old := w.Job
	var err error
	if w.Job, err = m.insert(ctx, m.span(w), lane); err != nil {
		return w, err
	}
	for i := range m.held {
		if m.held[i].Job == old {
			m.held[i].Job = w.Job
		}
	}
	return w, m.tx.GiveWork(ctx, old, w.Job, lane)
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
		return m.cancelJob(ctx, job)
	case gone > 0:
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
