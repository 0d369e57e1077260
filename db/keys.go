package db

import (
	"context"
	"crypto/rand"
	"fmt"
	"time"

	"github.com/google/uuid"
)

// AnyClient stands, where a client is asked for, for all of them. No client
// bears this name.
const AnyClient = "*"

// Defaults are choices that a key or a token brings to its plans; empty ones
// are not made.
type Defaults struct {
	Stock      string `db:"stock"`
	Convention string `db:"convention"`
	Frame      string `db:"frame"`
}

// Key says who calls. The key itself is not kept.
type Key struct {
	ID       uuid.UUID  `db:"id"`
	Owner    string     `db:"owner"` // the client whose things it makes and sees
	Name     string     `db:"name"`
	Scopes   []string   `db:"scopes"`
	Hash     []byte     `db:"hash"`      // SHA-256
	OldHash  []byte     `db:"old_hash"`  // of the key before the last rotation
	OldUntil *time.Time `db:"old_until"` // until when that is taken too
	Defaults
	PerMinute int        `db:"per_minute"` // requests; 0: as many as the service allows
	Expires   *time.Time `db:"expires"`    // nil: never
	Revoked   *time.Time `db:"revoked"`
	Used      *time.Time `db:"used"` // to the minute
	Created   time.Time  `db:"created"`
}

const keyColumns = `id, owner, name, scopes, hash, old_hash, old_until, stock, convention, frame, per_minute, expires, revoked, used, created`

const addKey = `
	insert into keys (id, owner, name, scopes, hash, stock, convention, frame, per_minute, expires)
	values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) returning ` + keyColumns

// AddKey keeps a new key. Of k it reads all but what becomes of a key.
func (q keyTable) AddKey(ctx context.Context, k Key) (Key, error) {
	return one[Key](ctx, q.on, "add a key", addKey,
		k.ID, k.Owner, k.Name, k.Scopes, k.Hash, k.Stock, k.Convention, k.Frame, k.PerMinute, k.Expires)
}

// AddFirstKey is AddKey as long as no key with the scope is in use; ErrConflict
// where one is. Of two at the same time one is the first.
func (d *DB) AddFirstKey(ctx context.Context, k Key, scope string) (added Key, err error) {
	err = d.InTx(ctx, func(tx Tx) error {
		if _, err := (on{tx.Raw}).exec(ctx, "lock the keys", `lock table keys in share row exclusive mode`); err != nil {
			return err
		}
		there, err := tx.KeyInUse(ctx, scope)
		if err == nil && there {
			err = wrap("add the first key", ErrConflict)
		}
		if err != nil {
			return err
		}
		added, err = tx.AddKey(ctx, k)
		return err
	})
	return added, err
}

// KeyInUse says whether there is a key with the scope, or with any where it is
// empty, that is neither revoked nor expired.
func (q keyTable) KeyInUse(ctx context.Context, scope string) (yes bool, err error) {
	err = q.conn.QueryRow(ctx, `
		select exists (select from keys where revoked is null and (expires is null or expires > now())
			and ($1 = '' or $1 = any(scopes)))`, scope).Scan(&yes)
	return yes, wrap("look for a key", err)
}

// Key returns a key, a revoked one too; ErrNotFound where there is none.
func (q keyTable) Key(ctx context.Context, id uuid.UUID) (Key, error) {
	return one[Key](ctx, q.on, "read a key", `select `+keyColumns+` from keys where id = $1`, id)
}

// Keys lists all keys, the newest first.
func (q keyTable) Keys(ctx context.Context) ([]Key, error) {
	return all[Key](ctx, q.on, "list the keys", `select `+keyColumns+` from keys order by created desc, id desc`)
}

// RotateKey gives a key another sum; the one before is taken for the time of
// grace. ErrNotFound where there is no such key or it is revoked.
func (q keyTable) RotateKey(ctx context.Context, id uuid.UUID, hash []byte, grace time.Duration) (Key, error) {
	return one[Key](ctx, q.on, "rotate a key", `
		update keys set old_hash = hash, old_until = now() + make_interval(secs => $3), hash = $2
		where id = $1 and revoked is null returning `+keyColumns, id, hash, grace.Seconds())
}

// RevokeKey ends a key for good, and the tokens that it made.
func (q keyTable) RevokeKey(ctx context.Context, id uuid.UUID) error {
	return q.touch(ctx, "revoke a key", `
		with noted as (insert into erasures (what, which) select 'key', id::text from keys where id = $1 on conflict do nothing)
		update keys set revoked = coalesce(revoked, now()) where id = $1`, id)
}

// UsedKey notes that a key was used.
func (q keyTable) UsedKey(ctx context.Context, id uuid.UUID) error {
	_, err := q.exec(ctx, "note the use of a key", `
		update keys set used = now() where id = $1 and (used is null or used < now() - interval '1 minute')`, id)
	return err
}

// SigningSecret returns the 32 bytes that links and capabilities are signed
// with, and makes them where there are none yet.
func (q keyTable) SigningSecret(ctx context.Context) ([]byte, error) {
	fresh := make([]byte, 32)
	if _, err := rand.Read(fresh); err != nil {
		return nil, fmt.Errorf("db: %w", err)
	}
	if _, err := q.exec(ctx, "make a secret to sign with", `insert into signing (secret) values ($1) on conflict do nothing`, fresh); err != nil {
		return nil, err
	}
	var secret []byte
	err := q.conn.QueryRow(ctx, `select secret from signing`).Scan(&secret)
	return secret, wrap("read the secret to sign with", err)
}
