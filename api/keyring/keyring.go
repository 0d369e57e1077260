// Package keyring makes, rotates and checks the keys and tokens of a service,
// for its API and its command line alike.
package keyring

import (
	"context"
	"errors"
	"fmt"
	"time"

	"knifedesk/api/access"
	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/size"

	"github.com/google/uuid"
)

// Order is what a new key is to be.
type Order struct {
	Owner  string // the client whose things it makes and sees
	Name   string // what it is for
	Scopes []string
	db.Defaults
	PerMinute int        // requests; 0: as many as the service allows
	Expires   *time.Time // nil: never
}

// FieldError says what of an order cannot be taken.
type FieldError struct{ Field, Reason, Change string }

func (e *FieldError) Error() string { return e.Reason + " " + e.Change }

// ErrFirst: there is a key that manages already.
var ErrFirst = errors.New("there is a key with the scope manage already, so this one would not be the first")

// Create makes a key. Its text is returned here and kept nowhere. It fails with
// a *FieldError.
func Create(ctx context.Context, store *db.DB, o Order) (db.Key, string, error) {
	k, secret, err := prepare(ctx, store, o)
	if err != nil {
		return db.Key{}, "", err
	}
	k, err = store.AddKey(ctx, k)
	return k, secret.Text(), err
}

// CreateFirst is Create for a key that manages, where there is none yet; ErrFirst
// where there is.
func CreateFirst(ctx context.Context, store *db.DB, o Order) (db.Key, string, error) {
	k, secret, err := prepare(ctx, store, o)
	if err != nil {
		return db.Key{}, "", err
	}
	k, err = store.AddFirstKey(ctx, k, string(access.Manage))
	if errors.Is(err, db.ErrConflict) {
		err = ErrFirst
	}
	return k, secret.Text(), err
}

// Rotate gives a key another text; the one before is taken for the time of grace.
func Rotate(ctx context.Context, store *db.DB, id uuid.UUID, grace time.Duration) (db.Key, string, error) {
	secret := access.NewSecret(access.Key, id)
	k, err := store.RotateKey(ctx, id, secret.Hash(), grace)
	return k, secret.Text(), err
}

func prepare(ctx context.Context, store *db.DB, o Order) (db.Key, access.Secret, error) {
	secret := access.NewSecret(access.Key, uuid.New())
	scopes, err := access.ReadScopes(o.Scopes)
	if err != nil {
		return db.Key{}, secret, &FieldError{"scopes", "The scopes cannot be taken: " + err.Error() + ".", "Name one or several of submit, read and manage."}
	}
	if err := access.CheckOwner(o.Owner); err != nil {
		return db.Key{}, secret, &FieldError{"owner", "The owner cannot be taken.", "Write small letters, digits, dots, dashes and underscores, at most 63, such as booking."}
	}
	if o.Expires != nil && !o.Expires.After(time.Now()) {
		return db.Key{}, secret, &FieldError{"expires_at", "The key would have expired already.", "Give a time that is still to come."}
	}
	if o.PerMinute < 0 {
		return db.Key{}, secret, &FieldError{"requests_per_minute", "The number of requests is below 0.", "Write 1 or more, or leave it out."}
	}
	if err := CheckDefaults(ctx, store, o.Defaults); err != nil {
		return db.Key{}, secret, err
	}
	return db.Key{
		ID: secret.ID, Owner: o.Owner, Name: o.Name, Scopes: scopes.Names(), Hash: secret.Hash(),
		Defaults: o.Defaults, PerMinute: o.PerMinute, Expires: o.Expires,
	}, secret, nil
}

// CheckDefaults refuses choices that the workshop does not have, with a
// *FieldError. A frame is judged with each plan, as any other is.
func CheckDefaults(ctx context.Context, store *db.DB, d db.Defaults) error {
	lacks := func(field, id string, err error) error {
		if errors.Is(err, db.ErrNotFound) {
			return &FieldError{field, fmt.Sprintf("The workshop has no %q.", id), "Choose one that it lists."}
		}
		return err
	}
	said := size.Request{Frame: d.Frame}
	if d.Stock != "" {
		stock, err := queue.Stocks(store.Queries).Newest(ctx, d.Stock)
		if err != nil {
			return lacks("stock_id", d.Stock, err)
		}
		said.Stock = stock.Doc
	}
	if d.Convention != "" {
		if _, err := queue.Conventions(store.Queries).Newest(ctx, d.Convention); err != nil {
			return lacks("convention_id", d.Convention, err)
		}
	}
	sheets, err := queue.Sheets(store.Queries).All(ctx)
	if err != nil {
		return err
	}
	for _, s := range sheets {
		said.Sheets = append(said.Sheets, s.Doc)
	}
	if said.Check() != nil {
		return &FieldError{"frame", fmt.Sprintf("%q is no size that is known here.", d.Frame), "Write a name such as A4, or two lengths such as 210x297 or 8.5x11in."}
	}
	return nil
}
