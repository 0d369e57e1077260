package queue

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// show writes how the plan stands, for callers to read. started is when the
// next job began, nil where it has not.
func (m *move) show(ctx context.Context, s *standing, started *time.Time) error {
	v, err := m.viewOf(s, started)
	if err != nil {
		return err
	}
	text, err := json.Marshal(v)
	if err != nil {
		return fmt.Errorf("queue: the view of plan %s: %w", m.plan.ID, err)
	}
	m.plan.Status, m.plan.Failure = string(s.status), s.failure
	if m.fresh {
		err = m.tx.AddPlan(ctx, m.plan, text)
	} else {
		err = m.tx.SetStatus(ctx, m.plan.ID, m.plan.Status, s.failure, text)
	}
	if err != nil {
		return err
	}
	if err := tell(ctx, m, v.Estimate); err != nil {
		return err
	}
	return m.showStages(ctx, s, started)
}

// endAs shows the plan as failed, with a code, or as cancelled, with what it has
// by now.
func (m *move) endAs(ctx context.Context, status plan.Status, code string) error {
	if m.foreign() {
		return m.tx.SetStatus(ctx, m.plan.ID, string(status), code, nil)
	}
	s, err := m.stand(ctx)
	if err != nil {
		return err
	}
	m.reused = nil
	s.status, s.failure = status, code
	if status == plan.Cancelled {
		s.next = ""
	}
	return m.show(ctx, s, nil)
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

// viewOf returns the view of the plan.
func (m *move) viewOf(s *standing, started *time.Time) (*view.Plan, error) {
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
	return view.Gather(s.status, m.request, progress, s.parts), nil
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
