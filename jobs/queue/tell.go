package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/trace"
	"knifedesk/jobs/queue/webhook"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"
)

// How a delivery stands.
const (
	DeliveryWaiting   = "waiting"
	DeliveryDelivered = "delivered"
	DeliveryDead      = "dead"
)

// Events are what receivers can be told of: that a plan has come to rest, and how a class
// set gets on.
func Events() []string {
	return []string{"plan.ready", "plan.asking", "plan.refused", "plan.failed", "plan.cancelled", classLaid, classComplete, classClosed}
}

// event is the payload of a webhook, in the form that Standard Webhooks advises.
type event struct {
	Type      string    `json:"type"`
	Timestamp time.Time `json:"timestamp"`
	Data      eventData `json:"data"`
}

type eventData struct {
	Plan      uuid.UUID `json:"plan_id"`
	Status    string    `json:"status"`
	Owner     string    `json:"owner"`
	Reference string    `json:"client_reference,omitempty"`
	Link      string    `json:"link"`
}

// tell notes for all who want to know it that the plan has come to rest, and puts
// the jobs that deliver it into the queue: with the transaction, or not at all.
func tell(ctx context.Context, m *move) error {
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
	e := event{Type: "plan." + m.plan.Status, Timestamp: time.Now().UTC(), Data: eventData{
		Plan: m.plan.ID, Status: m.plan.Status, Owner: m.plan.Client, Reference: m.plan.ClientReference, Link: "/v1/plans/" + m.plan.ID.String(),
	}}
	payload, err := json.Marshal(e)
	if err != nil {
		return fmt.Errorf("queue: an event: %w", err)
	}
	told, err := m.tx.AddDeliveries(ctx, m.plan.ID, m.plan.Client, e.Type, string(payload))
	if err != nil {
		return err
	}
	for _, id := range told {
		if err := m.deliverLater(ctx, m.tx, id); err != nil {
			return err
		}
	}
	return nil
}

// deliverJob is a job of the queue that delivers.
type deliverJob struct {
	Delivery uuid.UUID `json:"delivery"`
}

// Kind is the name of the kind in the queue.
func (deliverJob) Kind() string { return "deliver_webhook" }

// deliverLane is the library's name of the queue of deliveries.
const deliverLane = "webhooks"

func (q *telling) deliverLater(ctx context.Context, tx db.Tx, id uuid.UUID) error {
	_, err := q.river.InsertTx(ctx, tx.Raw, deliverJob{id}, &river.InsertOpts{Queue: deliverLane, MaxAttempts: 1000}) // ours ends it
	if err != nil {
		return fmt.Errorf("queue: insert a delivery: %w", err)
	}
	return nil
}

// telling is what a queue does for webhooks.
type telling struct {
	river *river.Client[pgx.Tx]
	store *db.DB
}

// Resend has a delivery of a receiver sent once more, whatever became of it.
func (q *telling) Resend(ctx context.Context, hook, id uuid.UUID) (d db.Delivery, err error) {
	err = q.store.InTx(ctx, func(tx db.Tx) error {
		if d, err = tx.Resend(ctx, hook, id); err != nil {
			return err
		}
		return q.deliverLater(ctx, tx, id)
	})
	return d, err
}

// deliverer delivers.
type deliverer struct {
	river.WorkerDefaults[deliverJob]
	queue  *Queue
	sender webhook.Sender
}

// Work sends one delivery. Where the process dies after sending and before that
// is noted, it is sent again with the same id.
func (w *deliverer) Work(ctx context.Context, job *river.Job[deliverJob]) error {
	store := w.queue.store
	d, err := store.Delivery(ctx, job.Args.Delivery)
	if errors.Is(err, db.ErrNotFound) || err == nil && d.State != DeliveryWaiting {
		return nil // erased with its plan, or delivered by another job
	}
	if err != nil {
		return err
	}
	to, err := store.Webhook(ctx, d.Webhook)
	if errors.Is(err, db.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	if d, err = w.try(ctx, to, d); err != nil {
		return err
	}
	if err := store.Tried(ctx, d); err != nil && !errors.Is(err, db.ErrNotFound) {
		return err
	}
	w.queue.metrics.told.WithLabelValues(d.State, d.Fault).Inc()
	w.queue.log.With(trace.Parent(d.Trace).Attrs()...).Info("webhook tried", "webhook", d.Webhook, "delivery", d.ID, "plan", d.Plan, "state", d.State, "status", d.Status, "fault", d.Fault, "attempt", d.Attempts)
	if d.Status == http.StatusGone {
		return store.StopWebhook(ctx, d.Webhook) // the receiver wants no more (Standard Webhooks)
	}
	if d.State == DeliveryWaiting {
		pauses := w.queue.cfg.TryAgain
		return river.JobSnooze(pauses[min(d.Attempts, len(pauses))-1])
	}
	return nil
}

// try sends a delivery once, unless its receiver wants no more, and returns it as
// that leaves it. The error says that the service stops.
func (w *deliverer) try(ctx context.Context, to db.Webhook, d db.Delivery) (db.Delivery, error) {
	d.Attempts++
	if to.Active {
		var err error
		d.Status, err = w.sender.Send(ctx, webhook.Message{ID: d.ID, URL: to.URL, Secret: to.Secret, Payload: []byte(d.Payload), Trace: d.Trace}, time.Now())
		if ctx.Err() != nil {
			return d, ctx.Err() // which says nothing of the receiver
		}
		d.Fault = faultOf(d.Status, err)
	} else {
		d.Status, d.Fault = 0, "stopped"
	}
	switch {
	case d.Fault == "":
		d.State = DeliveryDelivered
	case !to.Active || d.Status == http.StatusGone || d.Attempts >= w.queue.cfg.Tries:
		d.State = DeliveryDead
	}
	return d, nil
}

// faultOf says in a stable word why a delivery failed, "" where it did not.
func faultOf(status int, err error) string {
	switch {
	case errors.Is(err, webhook.ErrAddress):
		return "private_address"
	case err != nil:
		return "unreachable"
	case status >= 300 && status < 400:
		return "redirect"
	case status < 200 || status >= 300:
		return "refused"
	}
	return ""
}

// NextRetry is for what went wrong on our side, such as an outage of the database: it
// comes again soon. What the receiver refused waits as Standard Webhooks advises.
func (w *deliverer) NextRetry(job *river.Job[deliverJob]) time.Time {
	return w.queue.cfg.soon(len(job.Errors))
}
