package queue

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
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
	if m.plan.List > m.list { // made by a newer program, which drives it on
		return m.yield(ctx)
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
		row := m.rows[at]
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
	job, err := m.insert(ctx, m.tx, m.span(span[0]), m.plan.Queue)
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
	return Span{Stage: w.Stage, Revision: w.Revision, Plan: m.plan.ID}
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
	if err := m.cancelJob(ctx, m.tx, w.Job); err != nil {
		return w, err
	}
	old := w.Job
	var err error
	if w.Job, err = m.insert(ctx, m.tx, m.span(w), lane); err != nil {
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
		return m.cancelJob(ctx, m.tx, job)
	case gone > 0:
		m.trimmed = append(m.trimmed, job)
		return m.tx.TellTrimmed(ctx, job)
	}
	return nil
}

// yield leaves the plan to a newer program.
func (m *move) yield(ctx context.Context) error {
	if err := m.leave(ctx); err != nil {
		return err
	}
	return m.tx.SetStatus(ctx, m.plan.ID, string(plan.Queued), "", nil)
}

// show writes how the plan stands, for callers to read. started is when the
// next job began, nil where it has not.
func (m *move) show(ctx context.Context, s *standing, started *time.Time) error {
	text, err := m.viewOf(s, started)
	if err != nil {
		return err
	}
	m.plan.Status, m.plan.Failure = string(s.status), s.failure
	if m.fresh {
		m.plan, err = m.tx.AddPlan(ctx, m.plan, text)
	} else {
		err = m.tx.SetStatus(ctx, m.plan.ID, m.plan.Status, s.failure, text)
	}
	if err != nil {
		return err
	}
	return m.showStages(ctx, s, started)
}

// showStages writes how far the stages of the plan are.
func (m *move) showStages(ctx context.Context, s *standing, started *time.Time) error {
	if m.nodes == nil {
		return m.tx.StagesStand(ctx, m.plan.ID, s.done, m.computed, s.next, started)
	}
	if !m.fresh {
		if err := m.tx.ClearStages(ctx, m.plan.ID); err != nil {
			return err
		}
	}
	stages := make([]db.PlanStage, len(s.heads))
	for i, h := range s.heads {
		stages[i] = db.PlanStage{Stage: h.Stage, Key: h.Key, State: string(s.stateOf(h.Key, started)), Reused: h.Reused}
		if h.Key == s.next {
			stages[i].Started = started
		}
	}
	m.nodes, m.fresh = nil, false
	return m.tx.AddStages(ctx, m.plan.ID, stages)
}

// viewOf returns the view of the plan as it is stored.
func (m *move) viewOf(s *standing, started *time.Time) ([]byte, error) {
	if m.request == nil {
		var err error
		if m.request, err = RequestOf(m.plan); err != nil {
			return nil, err
		}
	}
	progress := make([]view.Progress, len(s.heads))
	for i, h := range s.heads {
		state := s.stateOf(h.Key, started)
		progress[i] = view.Progress{Job: h.Stage, State: state, Reused: state == view.Done && h.Reused}
	}
	text, err := json.Marshal(view.Gather(s.status, m.request, progress, s.parts))
	if err != nil {
		return nil, fmt.Errorf("queue: the view of plan %s: %w", m.plan.ID, err)
	}
	return text, nil
}

func (s *standing) stateOf(key string, started *time.Time) view.JobState {
	switch {
	case slices.Contains(s.done, key):
		return view.Done
	case key != s.next:
		return view.Waiting
	case s.failure != "":
		return view.Failed
	case started != nil:
		return view.Working
	}
	return view.Queued
}

// note counts and logs what moves led to, once they are committed, and trims
// what runs in this process before word of it comes round.
func (q *Queue) note(ctx context.Context, moves ...*move) {
	for _, m := range moves {
		for _, job := range m.trimmed {
			q.trimmed(context.WithoutCancel(ctx), job)
		}
		for _, stage := range m.reused {
			q.metrics.reused.WithLabelValues(stage).Inc()
		}
		if m.end != "" {
			q.metrics.settled.WithLabelValues(string(m.end)).Inc()
			q.log.Info("plan settled", "plan", m.plan.ID, "status", m.end)
		}
	}
}
