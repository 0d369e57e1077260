package db

import (
	"context"
	"fmt"

	"github.com/google/uuid"
)

// channel carries the IDs of plans that changed.
const channel = "knifedesk_plans"

// Announce tells those who Listen that a plan has changed, once the
// transaction is committed.
func (q Queries) Announce(ctx context.Context, plan uuid.UUID) error {
	_, err := q.exec(ctx, "announce a plan", `select pg_notify($1, $2)`, channel, plan.String())
	return err
}

// Listen calls ready once it listens, and then changed for each plan that
// changes, until ctx ends or the connection breaks. It always returns an
// error. It has a connection of its own.
func (d *DB) Listen(ctx context.Context, ready func(), changed func(uuid.UUID)) error {
	conn, err := d.connect(ctx)
	if err != nil {
		return wrap("listen", err)
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if _, err := conn.Exec(ctx, "listen "+channel); err != nil {
		return wrap("listen", err)
	}
	ready()
	for {
		note, err := conn.WaitForNotification(ctx)
		if err != nil {
			return wrap("listen", err)
		}
		id, err := uuid.Parse(note.Payload)
		if err != nil {
			return fmt.Errorf("db: listen: %w", err)
		}
		changed(id)
	}
}
