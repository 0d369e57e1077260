package db

import (
	"context"
	"crypto/sha256"
	"time"

	"github.com/google/uuid"
)

// Drawing is what a client sent. Its bytes are kept once for all that sent
// the same.
type Drawing struct {
	ID      uuid.UUID `db:"id"`
	Client  string    `db:"client"`
	Hash    []byte    `db:"hash"` // SHA-256 of the bytes
	Name    string    `db:"name"` // the file's name as it was sent
	Bytes   int64     `db:"bytes"`
	Created time.Time `db:"created"`
}

const drawingColumns = `d.id, d.client, d.hash, d.name, d.created,
	(select octet_length(b.bytes) from blobs b where b.hash = d.hash)::bigint as bytes`

// AddDrawing keeps a drawing for client. Its two statements belong into one
// transaction: another may erase the last drawing that shares the bytes.
func (tx Tx) AddDrawing(ctx context.Context, client, name string, file []byte) (Drawing, error) {
	sum := sha256.Sum256(file)
	return one[Drawing](ctx, on{tx.Raw}, "add a drawing", `
		with b as (
			insert into blobs (hash, bytes) values ($2, $4) on conflict do nothing
		), d as (
			insert into drawings (client, hash, name) values ($1, $2, $3) returning *
		) select d.id, d.client, d.hash, d.name, d.created, octet_length($4)::bigint as bytes from d`, client, sum[:], name, file)
}

// AddDrawing keeps a drawing for client, in a transaction of its own.
func (d *DB) AddDrawing(ctx context.Context, client, name string, file []byte) (added Drawing, err error) {
	err = d.InTx(ctx, func(tx Tx) error {
		added, err = tx.AddDrawing(ctx, client, name, file)
		return err
	})
	return added, err
}

// Drawing returns a drawing of client; ErrNotFound where it is another's.
func (q drawingTable) Drawing(ctx context.Context, client string, id uuid.UUID) (Drawing, error) {
	return one[Drawing](ctx, q.on, "read a drawing",
		`select `+drawingColumns+` from drawings d where d.id = $1 and $2 in (d.client, '*')`, id, client)
}

// DrawingHead is a drawing in a list.
type DrawingHead struct {
	Drawing
	Plans int `db:"plans"` // that were made of it
}

// DrawingFilter picks drawings of one client, or of AnyClient; its other fields pick
// all where they are zero.
type DrawingFilter struct {
	Client          string
	ClientReference string // of a plan that was made of it
	Planned         *bool  // that a plan was made of it, or none
	Before          *Cursor
	Limit           int
}

// DrawingHeads lists drawings, the newest first.
func (q drawingTable) DrawingHeads(ctx context.Context, f DrawingFilter) ([]DrawingHead, error) {
	created, id := f.Before.parts()
	return all[DrawingHead](ctx, q.on, "list drawings", `
		select `+drawingColumns+`, (select count(*) from plans p where p.drawing = d.id)::int as plans from drawings d
		where `+whose("d", f.Client)+`
			and ($2 = '' or exists (select from plans p where p.drawing = d.id and p.client_reference = $2))
			and ($3::bool is null or $3 = exists (select from plans p where p.drawing = d.id))
			and ($4::timestamptz is null or (d.created, d.id) < ($4, $5::uuid))
		order by d.created desc, d.id desc limit $6`,
		f.Client, f.ClientReference, f.Planned, created, id, f.Limit)
}

// HoldDrawing is Drawing, and keeps others from erasing it until the transaction
// ends. It waits for one that is erasing it, and has to come before results are
// taken: whoever erases a drawing holds it and then waits for these.
func (q drawingTable) HoldDrawing(ctx context.Context, client string, id uuid.UUID) (Drawing, error) {
	return one[Drawing](ctx, q.on, "hold a drawing",
		`select `+drawingColumns+` from drawings d where d.id = $1 and $2 in (d.client, '*') for key share of d`, id, client)
}

// File returns the bytes with this SHA-256.
func (q drawingTable) File(ctx context.Context, hash []byte) ([]byte, error) {
	var file []byte
	err := q.conn.QueryRow(ctx, `select bytes from blobs where hash = $1`, hash).Scan(&file)
	return file, wrap("read a file", err)
}

// FileHead returns the first n bytes of the file with this SHA-256, or all of
// a shorter one.
func (q drawingTable) FileHead(ctx context.Context, hash []byte, n int) ([]byte, error) {
	var head []byte
	err := q.conn.QueryRow(ctx, `select substring(bytes from 1 for $2) from blobs where hash = $1`, hash, n).Scan(&head)
	return head, wrap("read the head of a file", err)
}
