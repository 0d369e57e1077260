package db

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/google/uuid"
)

// The channels on which changes are told once they are committed.
const (
	planChannel = "knifedesk_plans" // a plan's ID and its status
	spanChannel = "knifedesk_spans" // the number of a job of which less is wanted
)

// TellTrimmed tells workers that less is wanted of what a job computes.
func (q channels) TellTrimmed(ctx context.Context, job int64) error {
	_, err := q.exec(ctx, "tell of a job", `select pg_notify($1, $2)`, spanChannel, strconv.FormatInt(job, 10))
	return err
}

// Changes are what Listen calls.
type Changes struct {
	Ready   func()                  // it listens from now on
	Plan    func(uuid.UUID, string) // a plan has moved, to this status
	Trimmed func(job int64)         // less is wanted of what a job computes
}

// Listen tells of changes until ctx ends or the connection breaks. It always
// returns an error. It has a connection of its own.
func (d *DB) Listen(ctx context.Context, tell Changes) error {
	conn, err := d.connect(ctx)
	if err != nil {
		return wrap("listen", err)
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if _, err := conn.Exec(ctx, "listen "+planChannel+"; listen "+spanChannel); err != nil {
		return wrap("listen", err)
	}
	tell.Ready()
	for {
		note, err := conn.WaitForNotification(ctx)
		if err != nil {
			return wrap("listen", err)
		}
		if err := tell.take(note.Channel, note.Payload); err != nil {
			return fmt.Errorf("db: listen: %w", err)
		}
	}
}

func (c Changes) take(channel, payload string) error {
	if channel == spanChannel {
		job, err := strconv.ParseInt(payload, 10, 64)
		if err == nil {
			c.Trimmed(job)
		}
		return err
	}
	name, status, _ := strings.Cut(payload, " ")
	id, err := uuid.Parse(name)
	if err == nil {
		c.Plan(id, status)
	}
	return err
}
