package queue

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/ledger"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"
)

// durationsChanged is the event that a plan has come to other minutes than receivers
// were told of: by new answers, or in the place of a plan that it supersedes.
const durationsChanged = "plan.durations_changed"

// Events are what receivers can be told of: that a plan has come to rest, that its
// durations are others than before, what becomes of its acceptance, and how a class set
// gets on.
func Events() []string {
	all := []string{"plan.ready", "plan.asking", "plan.refused", "plan.failed", "plan.cancelled", durationsChanged}
	for _, e := range ledger.Events() {
		all = append(all, string(e))
	}
	return append(all, classLaid, classComplete, classClosed)
}

// event is the payload of a webhook, in the form that Standard Webhooks advises.
type event struct {
	Type      string    `json:"type"`
	Timestamp time.Time `json:"timestamp"`
	Data      eventData `json:"data"`
}

type eventData struct {
	Plan       uuid.UUID        `json:"plan_id"`
	Status     string           `json:"status"`
	Owner      string           `json:"owner"`
	Reference  string           `json:"client_reference,omitempty"`
	Supersedes *uuid.UUID       `json:"supersedes,omitempty"`
	Link       string           `json:"link"`
	Durations  *durations       `json:"durations,omitempty"`
	Before     *durations       `json:"durations_before,omitempty"`
	Acceptance *eventAcceptance `json:"acceptance,omitempty"`
}

// durations are what a booking system needs of a plan, in minutes.
type durations struct {
	Machine   string         `json:"machine_id"`
	CutterMin estimate.Range `json:"cutter_min"`
	BenchMin  estimate.Range `json:"bench_min"`
}

type eventAcceptance struct {
	State     ledger.State `json:"state"`
	HeldUntil time.Time    `json:"held_until"`
	Booking   string       `json:"booking_reference,omitempty"`
}

// telling is what a queue does for webhooks.
type telling struct {
	river *river.Client[pgx.Tx]
	store *db.DB
}

// Book is the ledger, as it tells receivers what becomes of acceptances.
func (q *telling) Book() ledger.Book {
	return ledger.Open(q.store).Telling(func(ctx context.Context, tx db.Tx, p db.Plan, e ledger.Event, a *ledger.Acceptance) error {
		data := dataOf(p)
		data.Acceptance = &eventAcceptance{a.State, a.HeldUntil.UTC(), a.BookingReference}
		return q.announce(ctx, tx, p, string(e), data)
	})
}

func dataOf(p db.Plan) eventData {
	return eventData{
		Plan: p.ID, Status: p.Status, Owner: p.Client, Reference: p.ClientReference, Supersedes: p.Supersedes, Link: "/v1/plans/" + p.ID.String(),
	}
}

// announce notes an event of a plan for all who want to know it, and puts the jobs that
// deliver it into the queue: with the transaction, or not at all.
func (q *telling) announce(ctx context.Context, tx db.Tx, p db.Plan, kind string, data eventData) error {
	payload, err := json.Marshal(event{Type: kind, Timestamp: time.Now().UTC(), Data: data})
	if err != nil {
		return fmt.Errorf("queue: an event: %w", err)
	}
	told, err := tx.AddDeliveries(ctx, p.ID, p.Client, kind, string(payload))
	if err != nil {
		return err
	}
	for _, id := range told {
		if err := q.deliverLater(ctx, tx, id); err != nil {
			return err
		}
	}
	return nil
}

// tell notes that the plan has come to rest, and has the sets looked at that it is in.
func tell(ctx context.Context, m *move, e *estimate.Estimate) error {
	if !plan.Status(m.plan.Status).Settled() {
		return nil
	}
	if !m.fresh { // else it is in no set yet
		sets, err := m.tx.SetsOf(ctx, m.plan.ID)
		if err != nil {
			return err
		}
		if err := m.lookLater(ctx, m.tx, sets...); err != nil {
			return err
		}
	}
	if err := m.announce(ctx, m.tx, m.plan, "plan."+m.plan.Status, dataOf(m.plan)); err != nil {
		return err
	}
	if plan.Status(m.plan.Status) != plan.Ready || e == nil {
		return nil
	}
	return tellDurations(ctx, m, e)
}

// tellDurations keeps the durations of a plan that is ready, and tells where they are
// others than those it had, or the plan that it supersedes.
func tellDurations(ctx context.Context, m *move, e *estimate.Estimate) error {
	now := durations{m.request.Machine.ID, e.CutterMin, e.BenchMin}
	text, err := json.Marshal(now)
	if err != nil {
		return fmt.Errorf("queue: durations: %w", err)
	}
	last, err := m.tx.SetDurations(ctx, m.plan.ID, string(text))
	if err != nil || last == "" || last == string(text) {
		return err
	}
	var before durations
	if err := json.Unmarshal([]byte(last), &before); err != nil {
		return fmt.Errorf("queue: durations: %w", err)
	}
	data := dataOf(m.plan)
	data.Durations, data.Before = &now, &before
	return m.announce(ctx, m.tx, m.plan, durationsChanged, data)
}
