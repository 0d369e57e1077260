package db

import (
	"context"
	"errors"

	"github.com/google/uuid"
)

// ErrInUse: something else still stands on what was to be erased.
var ErrInUse = errors.New("still in use")

// EraseDrawing removes a drawing of client with its name, and its bytes where
// no other drawing shares them. ErrInUse while a plan was made from it.
func (d *DB) EraseDrawing(ctx context.Context, client string, id uuid.UUID) error {
	return d.InTx(ctx, func(tx Tx) error {
		gone, err := column[[]byte](ctx, on{tx.Raw}, "erase a drawing", `
			delete from drawings d where d.id = $1 and $2 in (d.client, '*')
				and not exists (select from plans p where p.drawing = d.id)
			returning d.hash`, id, client)
		if err != nil {
			return err
		}
		if len(gone) == 0 {
			if _, err := tx.Drawing(ctx, client, id); err != nil {
				return err
			}
			return wrap("erase a drawing", ErrInUse)
		}
		_, err = on{tx.Raw}.exec(ctx, "erase a file",
			`delete from blobs b where b.hash = $1 and not exists (select from drawings d where d.hash = b.hash)`, gone[0])
		return err
	})
}
