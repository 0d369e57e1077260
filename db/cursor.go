package db

import (
	"time"

	"github.com/google/uuid"
)

// Cursor is a place in a list by time, the newest first.
type Cursor struct {
	Created time.Time
	ID      uuid.UUID
}

// parts are the place as arguments of a statement, null at the beginning of the list.
func (c *Cursor) parts() (created *time.Time, id *uuid.UUID) {
	if c == nil {
		return nil, nil
	}
	return &c.Created, &c.ID
}

// whose is the condition that rows of a table are those of client $1, by the table's
// index; who sees those of all has an index of their own.
func whose(table, client string) string {
	if client == AnyClient {
		return `$1 = '*'`
	}
	return table + `.client = $1`
}
