package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Webhook is who is told of events, and where.
type Webhook struct {
	ID      uuid.UUID `db:"id"`
	Owner   string    `db:"owner"` // whose plans it is told of; empty: all
	URL     string    `db:"url"`
	Secret  []byte    `db:"secret"`
	Events  []string  `db:"events"` // empty: all
	Active  bool      `db:"active"`
	Created time.Time `db:"created"`
}

// Delivery is one event that one receiver is told of.
type Delivery struct {
	ID       uuid.UUID  `db:"id"`
	Webhook  uuid.UUID  `db:"webhook"`
	Plan     *uuid.UUID `db:"plan"`      // that it is about; nil: it is about a class set
	ClassSet *uuid.UUID `db:"class_set"` // that it is about
	Event    string     `db:"event"`
	Payload  string     `db:"payload"` // JSON, byte for byte as it is signed
	State    string     `db:"state"`   // waiting, delivered, dead
	Attempts int        `db:"attempts"`
	Status   int        `db:"status"` // the last answer; 0: there was none
	Fault    string     `db:"fault"`  // why there was none
	Created  time.Time  `db:"created"`
	Updated  time.Time  `db:"updated"`
	Trace    string     `db:"trace"` // of its plan; "" of a class set
}

const (
	webhookColumns  = `id, owner, url, secret, events, active, created`
	deliveryColumns = `id, webhook, plan, class_set, event, payload, state, attempts, status, fault, created, updated,
		coalesce((select p.trace from plans p where p.id = plan), '') as trace`
)

// AddWebhook keeps a receiver. Of w it reads Owner, URL, Secret and Events.
func (q webhookTable) AddWebhook(ctx context.Context, w Webhook) (Webhook, error) {
	return one[Webhook](ctx, q.on, "add a webhook",
		`insert into webhooks (owner, url, secret, events) values ($1, $2, $3, $4) returning `+webhookColumns, w.Owner, w.URL, w.Secret, given(w.Events))
}

// Webhooks lists all receivers, the newest first.
func (q webhookTable) Webhooks(ctx context.Context) ([]Webhook, error) {
	return all[Webhook](ctx, q.on, "list the webhooks", `select `+webhookColumns+` from webhooks order by created desc, id desc`)
}

// Webhook returns a receiver.
func (q webhookTable) Webhook(ctx context.Context, id uuid.UUID) (Webhook, error) {
	return one[Webhook](ctx, q.on, "read a webhook", `select `+webhookColumns+` from webhooks where id = $1`, id)
}

// DropWebhook removes a receiver, with what it was told and was to be told.
func (q webhookTable) DropWebhook(ctx context.Context, id uuid.UUID) error {
	return q.touch(ctx, "drop a webhook", `delete from webhooks where id = $1`, id)
}

// StopWebhook ends what a receiver is told, at its own wish.
func (q webhookTable) StopWebhook(ctx context.Context, id uuid.UUID) error {
	return q.touch(ctx, "stop a webhook", `update webhooks set active = false where id = $1`, id)
}

// AddDeliveries notes an event of a plan of owner for each receiver that is to be
// told of it, and returns their ids.
func (q webhookTable) AddDeliveries(ctx context.Context, plan uuid.UUID, owner, event, payload string) ([]uuid.UUID, error) {
	return q.addDeliveries(ctx, &plan, nil, owner, event, payload)
}

func (q webhookTable) addDeliveries(ctx context.Context, plan, set *uuid.UUID, owner, event, payload string) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "note an event", `
		insert into deliveries (webhook, plan, class_set, event, payload)
		select w.id, $1, $2, $4, $5 from webhooks w
		where w.active and w.owner in ('', $3) and (cardinality(w.events) = 0 or $4 = any(w.events))
		returning id`, plan, set, owner, event, payload)
}

// Delivery returns what a receiver is told.
func (q webhookTable) Delivery(ctx context.Context, id uuid.UUID) (Delivery, error) {
	return one[Delivery](ctx, q.on, "read a delivery", `select `+deliveryColumns+` from deliveries where id = $1`, id)
}

// Deliveries lists what a receiver was and is to be told, the newest first, from
// before a place on; with a state only what is in it.
func (q webhookTable) Deliveries(ctx context.Context, webhook uuid.UUID, state string, before *Cursor, limit int) ([]Delivery, error) {
	created, id := before.parts()
	return all[Delivery](ctx, q.on, "list deliveries", `
		select `+deliveryColumns+` from deliveries where webhook = $1 and ($2 = '' or state = $2)
			and ($4::timestamptz is null or (created, id) < ($4, $5))
		order by created desc, id desc limit $3`, webhook, state, limit, created, id)
}

// Tried notes how an attempt to deliver ended, and in which state that leaves it.
func (q webhookTable) Tried(ctx context.Context, d Delivery) error {
	return q.touch(ctx, "note an attempt", `
		update deliveries set state = $2, attempts = $3, status = $4, fault = $5, updated = now() where id = $1`,
		d.ID, d.State, d.Attempts, d.Status, d.Fault)
}

// Resend has a delivery of a receiver sent once more, whatever became of it.
func (q webhookTable) Resend(ctx context.Context, webhook, id uuid.UUID) (Delivery, error) {
	return one[Delivery](ctx, q.on, "send once more", `
		update deliveries set state = 'waiting', attempts = 0, updated = now() where id = $2 and webhook = $1
		returning `+deliveryColumns, webhook, id)
}

// ForgetDeliveries removes what was delivered, or given up, before the time.
func (q webhookTable) ForgetDeliveries(ctx context.Context, before time.Time) (int64, error) {
	return q.exec(ctx, "forget deliveries", `delete from deliveries where state <> 'waiting' and updated < $1`, before)
}
