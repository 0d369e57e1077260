package db

import (
	"context"
	"errors"
	"time"
)

// Claim is a request that carries an Idempotency-Key.
type Claim struct {
	Client      string
	Key         string
	RequestHash []byte // of method, path and body
}

// Answered is what such a request was answered. Status is nil while the first
// one is still at it, or for good where its process died.
type Answered struct {
	RequestHash []byte            `db:"request_hash"`
	Status      *int              `db:"status"`
	Headers     map[string]string `db:"headers"` // without a Status: what NoteRequest kept
	Body        []byte            `db:"body"`
}

// ClaimRequest takes the key for a request. It returns nil where the caller is
// the first and must Answer or Release, and otherwise what is known of the
// first. A claim older than stale that was never answered and made nothing is
// taken over: its process died.
func (q claimTable) ClaimRequest(ctx context.Context, c Claim, stale time.Duration) (*Answered, error) {
	n, err := q.exec(ctx, "claim a request", `
		insert into idempotency as i (client, key, request_hash) values ($1, $2, $3)
		on conflict (client, key) do update set request_hash = excluded.request_hash, created = now()
		where i.status is null and i.headers is null and i.created < now() - make_interval(secs => $4)`,
		c.Client, c.Key, c.RequestHash, stale.Seconds())
	if err != nil || n == 1 {
		return nil, err
	}
	first, err := one[Answered](ctx, q.on, "read a claim", `
		select request_hash, status, headers, body from idempotency where client = $1 and key = $2`, c.Client, c.Key)
	if errors.Is(err, ErrNotFound) { // released in between
		return q.ClaimRequest(ctx, c, stale)
	}
	return &first, err
}

// NoteRequest keeps, in the transaction that makes something, where it is. A
// request that comes again after a crash then finds it instead of making
// another. ErrNotFound: the claim was taken over.
func (tx Tx) NoteRequest(ctx context.Context, c Claim, headers map[string]string) error {
	return on{tx.Raw}.touch(ctx, "note what a claim made", `
		update idempotency set headers = $4
		where client = $1 and key = $2 and request_hash = $3 and status is null and headers is null`,
		c.Client, c.Key, c.RequestHash, headers)
}

// AnswerRequest keeps what a claimed request was answered. ErrNotFound: it was
// answered already.
func (q claimTable) AnswerRequest(ctx context.Context, c Claim, status int, headers map[string]string, body []byte) error {
	return q.touch(ctx, "answer a claim", `
		update idempotency set status = $3, headers = $4, body = $5
		where client = $1 and key = $2 and status is null`, c.Client, c.Key, status, headers, body)
}

// ReleaseRequest gives up a claim that led to nothing, so that it may be
// tried again.
func (q claimTable) ReleaseRequest(ctx context.Context, c Claim) error {
	_, err := q.exec(ctx, "release a claim",
		`delete from idempotency where client = $1 and key = $2 and status is null and headers is null`, c.Client, c.Key)
	return err
}

// ForgetRequests deletes the claims made before the time.
func (q claimTable) ForgetRequests(ctx context.Context, before time.Time) (int64, error) {
	return q.exec(ctx, "forget claims", `delete from idempotency where created < $1`, before)
}
