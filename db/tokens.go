package db

import (
	"context"
	"errors"
	"time"

	"github.com/google/uuid"
)

// ErrSpent: the token has taken its drawing already.
var ErrSpent = errors.New("the token is spent")

// Token lets a browser send one drawing. Only a sum of it is kept.
type Token struct {
	ID    uuid.UUID  `db:"id"`
	Key   *uuid.UUID `db:"key"` // that made it; nil: it was made without one
	Owner string     `db:"owner"`
	Hash  []byte     `db:"hash"` // SHA-256
	Defaults
	Expires time.Time     `db:"expires"` // until when it can be spent
	Session time.Duration `db:"session"` // how long its drawing can be worked on then
	Until   *time.Time    `db:"until"`   // until when that is; nil: it is not spent
	Drawing *uuid.UUID    `db:"drawing"`
	Revoked bool          `db:"revoked"` // with the key that made it
}

// AddToken keeps a new token, and forgets those that nobody can use any more.
func (q keyTable) AddToken(ctx context.Context, t Token) error {
	_, err := q.exec(ctx, "add a token", `
		with gone as (delete from tokens where expires < now() and coalesce(until, expires) < now())
		insert into tokens (id, key, owner, hash, stock, convention, frame, expires, session)
		values ($1, $2, $3, $4, $5, $6, $7, $8, make_interval(secs => $9))`,
		t.ID, t.Key, t.Owner, t.Hash, t.Stock, t.Convention, t.Frame, t.Expires, t.Session.Seconds())
	return err
}

// Token returns a token; ErrNotFound where there is none.
func (q keyTable) Token(ctx context.Context, id uuid.UUID) (Token, error) {
	return one[Token](ctx, q.on, "read a token", `
		select t.id, t.key, t.owner, t.hash, t.stock, t.convention, t.frame, t.expires, t.session, t.until, t.drawing,
			exists (select from keys k where k.id = t.key and k.revoked is not null) as revoked
		from tokens t where t.id = $1`, id)
}

// SpendToken binds a token to the drawing that the transaction makes. ErrSpent
// where it has one.
func (tx Tx) SpendToken(ctx context.Context, id, drawing uuid.UUID) error {
	err := on{tx.Raw}.touch(ctx, "spend a token", `
		update tokens set drawing = $2, until = now() + session where id = $1 and until is null`, id, drawing)
	if errors.Is(err, ErrNotFound) {
		return wrap("spend a token", ErrSpent)
	}
	return err
}

// PlanOfDrawing says whether a plan was made from a drawing.
func (q planTable) PlanOfDrawing(ctx context.Context, plan, drawing uuid.UUID) (yes bool, err error) {
	err = q.conn.QueryRow(ctx, `select exists (select from plans where id = $1 and drawing = $2)`, plan, drawing).Scan(&yes)
	return yes, wrap("look at a plan's drawing", err)
}
