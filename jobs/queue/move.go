package queue

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/trace"
	"knifedesk/jobs/view"
)

// move takes one plan on within a transaction.
type move struct {
	*Queue
	tx       db.Tx
	plan     db.Plan
	request  *plan.Request // nil: not read yet
	nodes    []jobs.Node   // of a plan that gets its stages anew; nil: it keeps those it has
	fresh    bool          // the plan is not in the store yet
	held     []db.Waited   // what the plan waits for as the move begins
	computed []string      // keys of results that have just come in
	reused   []string      // the jobs whose results were there
	trimmed  []int64       // jobs of the queue of which less is wanted
	stirred  bool          // what waits to be admitted, or what is admitted, has changed
	bytes    int           // of the drawing's file; 0: not known
	end      plan.Status
}

// standing is how far a plan is.
type standing struct {
	heads   []db.PlanHead
	parts   []view.Part
	done    []string // keys
	next    string   // the key that it lacks; empty: none
	status  plan.Status
	failure string // a code, where next could not be computed
}

// on moves the plan on until it waits for a result or is settled.
func (m *move) on(ctx context.Context) error {
	if m.foreign() {
		return m.yield(ctx)
	}
	if m.plan.List < m.list { // an older program's keys are not ours
		return m.restart(ctx)
	}
	s, err := m.stand(ctx)
	if err != nil {
		return err
	}
	if s.next != "" {
		return m.wait(ctx, s)
	}
	m.end = s.status
	if err := m.leave(ctx); err != nil {
		return err
	}
	return m.show(ctx, s, nil)
}

// foreign says whether a newer program made the plan, which drives it on.
func (m *move) foreign() bool { return m.plan.List > m.list }

// stand follows the course of the plan over the results that are there.
func (m *move) stand(ctx context.Context) (*standing, error) {
	heads, err := m.heads(ctx)
	if err != nil {
		return nil, err
	}
	s := &standing{heads: heads}
	m.reused = nil
	var course jobs.Course
	for i := range heads {
		h := &heads[i]
		at := m.place(h.Stage)
		if at < 0 {
			return nil, fmt.Errorf("queue: plan %s has a stage %q, which is not on the list", m.plan.ID, h.Stage)
		}
		row := m.all[at]
		if s.status = course.Before(row); s.status != "" {
			return s, nil
		}
		if !h.There {
			s.next = h.Key
			return s, nil
		}
		o, err := m.take(ctx, s, row, h)
		if err != nil {
			return nil, err
		}
		if s.status = course.After(o); s.status != "" {
			return s, nil
		}
	}
	s.status = course.End()
	return s, nil
}

// heads returns the stages of the plan with the heads of the results there are.
func (m *move) heads(ctx context.Context) ([]db.PlanHead, error) {
	if m.nodes == nil {
		return m.tx.PlanHeads(ctx, m.plan.ID)
	}
	names, keys := make([]string, len(m.nodes)), make([]string, len(m.nodes))
	for i, n := range m.nodes {
		names[i], keys[i] = n.Row.Name, string(n.Key)
	}
	return m.tx.Heads(ctx, names, keys)
}

// take takes in what a result says to the plan.
func (m *move) take(ctx context.Context, s *standing, row *jobs.Row, h *db.PlanHead) (jobs.Outcome, error) {
	var o jobs.Outcome
	if err := json.Unmarshal(h.Outcome, &o); err != nil {
		return o, fmt.Errorf("queue: the outcome of %s: %w", h.Key, err)
	}
	digest, err := m.digest(ctx, row, h)
	if err != nil {
		return o, err
	}
	s.done = append(s.done, h.Key)
	s.parts = append(s.parts, view.Part{Job: h.Stage, Findings: o.Findings, Questions: o.Questions, Digest: digest})
	if h.State != string(view.Done) && !slices.Contains(m.computed, h.Key) {
		m.reused = append(m.reused, h.Stage)
		h.Reused = true
	}
	h.State = string(view.Done)
	return o, nil
}

// digest returns the digest of a result. An older program may have kept none.
func (m *move) digest(ctx context.Context, row *jobs.Row, h *db.PlanHead) (d view.Digest, err error) {
	if h.Digest != nil {
		if err := json.Unmarshal(h.Digest, &d); err != nil {
			return d, fmt.Errorf("queue: the digest of %s: %w", h.Key, err)
		}
		return d, nil
	}
	stored, err := m.tx.Result(ctx, h.Key)
	if err != nil {
		return d, err
	}
	result, err := decode(ctx, row, stored)
	if err != nil {
		return d, err
	}
	d = row.Digest(result)
	text, err := json.Marshal(d)
	if err != nil {
		return d, fmt.Errorf("queue: the digest of %s: %w", h.Key, err)
	}
	return d, m.tx.SetDigest(ctx, h.Key, text)
}

// note counts and logs what moves led to, once they are committed, and trims
// what runs in this process before word of it comes round.
func (q *Queue) note(ctx context.Context, moves ...*move) {
	for _, m := range moves {
		for _, job := range m.trimmed {
			crew{q}.trimmed(context.WithoutCancel(ctx), job)
		}
		for _, stage := range m.reused {
			q.metrics.reused.WithLabelValues(stage).Inc()
		}
		if m.end != "" {
			q.metrics.settled.WithLabelValues(string(m.end)).Inc()
			q.log.With(trace.Parent(m.plan.Trace).Attrs()...).Info("plan settled", "plan", m.plan.ID, "client", m.plan.Client, "status", m.end)
		}
	}
}
