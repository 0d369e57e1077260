package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Kinds of what was erased.
const (
	ErasedPlan      = "plan"
	ErasedClassSet  = "class_set"
	ErasedDrawing   = "drawing"
	ErasedReference = "reference" // off the rosters of class sets
	ErasedKey       = "key"       // revoked
)

// Erasure is one thing that was erased: by its id or, of a reference, by a sum from
// which it cannot be read.
type Erasure struct {
	What   string    `db:"what"`
	Which  string    `db:"which"`
	Erased time.Time `db:"erased"`
}

// NoteErased notes what was erased, once.
func (q erasureTable) NoteErased(ctx context.Context, what, which string) error {
	_, err := q.exec(ctx, "note an erasure", `insert into erasures (what, which) values ($1, $2) on conflict do nothing`, what, which)
	return err
}

// ErasuresSince lists what was erased from a time on, the oldest first.
func (q erasureTable) ErasuresSince(ctx context.Context, since time.Time) ([]Erasure, error) {
	return all[Erasure](ctx, q.on, "list erasures", `select what, which, erased from erasures where erased >= $1 order by erased, what, which`, since)
}

// Expected is a reference on the roster of a client's class set.
type Expected struct {
	Client    string `db:"client"`
	Reference string `db:"reference"`
}

// ExpectedReferences lists the references on all rosters, each once a client.
func (q erasureTable) ExpectedReferences(ctx context.Context) ([]Expected, error) {
	return all[Expected](ctx, q.on, "list the rosters", `
		select distinct s.client, r.reference from class_roster r join class_sets s on s.id = r.class_set order by s.client, r.reference`)
}

func (tx Tx) noteErased(ctx context.Context, what string, id uuid.UUID) error {
	return tx.NoteErased(ctx, what, id.String())
}
