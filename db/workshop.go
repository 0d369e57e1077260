package db

import (
	"context"
	"errors"
	"fmt"
	"time"

	"knifedesk/jobs/workshop"

	"github.com/jackc/pgx/v5"
)

// Document is one version of a thing in the workshop's data.
type Document[T any] struct {
	ID        string    `db:"id"`
	Version   int       `db:"version"`
	Doc       T         `db:"doc"`
	Withdrawn bool      `db:"withdrawn"`
	Created   time.Time `db:"created"`
}

// Shelf is a table of documents of one kind, each with all its versions.
type Shelf[T any] struct {
	q     Queries
	table string // a name of this file, never a caller's
}

// Stocks are the sheets, rolls and offcuts.
func (q Queries) Stocks() Shelf[workshop.Stock] { return Shelf[workshop.Stock]{q, "stocks"} }

// Machines are the cutters.
func (q Queries) Machines() Shelf[workshop.Machine] {
	return Shelf[workshop.Machine]{q, "machines"}
}

// Settings are the forces and speeds, tested or to be tested.
func (q Queries) Settings() Shelf[workshop.Setting] {
	return Shelf[workshop.Setting]{q, "settings"}
}

// Conventions say what layers and colours mean.
func (q Queries) Conventions() Shelf[workshop.Convention] {
	return Shelf[workshop.Convention]{q, "conventions"}
}

// PriceLists are the prices.
func (q Queries) PriceLists() Shelf[workshop.PriceList] {
	return Shelf[workshop.PriceList]{q, "price_lists"}
}

// Sheets are the sizes that the workshop lists by name.
func (q Queries) Sheets() Shelf[workshop.NamedSize] {
	return Shelf[workshop.NamedSize]{q, "sheets"}
}

const documentColumns = "id, version, doc, withdrawn, created"

func (s Shelf[T]) sql(format string) string {
	return fmt.Sprintf(format, pgx.Identifier{s.table}.Sanitize())
}

// All returns the newest version of each document that is not withdrawn, by
// ID.
func (s Shelf[T]) All(ctx context.Context) ([]Document[T], error) {
	return all[Document[T]](ctx, s.q, "list "+s.table, s.sql(`
		select * from (
			select distinct on (id) `+documentColumns+` from %s order by id, version desc
		) newest where not withdrawn order by id`))
}

// Newest returns the newest version of a document; ErrNotFound where there is
// none or it is withdrawn.
func (s Shelf[T]) Newest(ctx context.Context, id string) (Document[T], error) {
	doc, err := one[Document[T]](ctx, s.q, "read "+s.table, s.sql(`
		select `+documentColumns+` from %s where id = $1 order by version desc limit 1`), id)
	if err == nil && doc.Withdrawn {
		return doc, wrap("read "+s.table, ErrNotFound)
	}
	return doc, err
}

// Version returns one version of a document, withdrawn or not.
func (s Shelf[T]) Version(ctx context.Context, id string, version int) (Document[T], error) {
	return one[Document[T]](ctx, s.q, "read "+s.table, s.sql(`
		select `+documentColumns+` from %s where id = $1 and version = $2`), id, version)
}

// Put adds version after+1 of a document, where after is the newest version
// that the caller has seen and 0 for a new document. ErrConflict where another
// version came in between.
func (s Shelf[T]) Put(ctx context.Context, id string, after int, doc T) (Document[T], error) {
	return s.add(ctx, id, after, doc, false)
}

// Withdraw adds a version that takes the document off the lists. Plans made
// with it keep their copy.
func (s Shelf[T]) Withdraw(ctx context.Context, id string, after int) error {
	last, err := s.Newest(ctx, id)
	if err != nil {
		return err
	}
	_, err = s.add(ctx, id, after, last.Doc, true)
	return err
}

func (s Shelf[T]) add(ctx context.Context, id string, after int, doc T, withdrawn bool) (Document[T], error) {
	added, err := one[Document[T]](ctx, s.q, "write "+s.table, s.sql(`
		insert into %[1]s (id, version, doc, withdrawn)
		select $1, $2 + 1, $3, $4
		where $2 = coalesce((select max(version) from %[1]s where id = $1), 0)
		on conflict do nothing
		returning `+documentColumns), id, after, doc, withdrawn)
	if errors.Is(err, ErrNotFound) {
		return added, wrap("write "+s.table+" "+id, ErrConflict)
	}
	return added, err
}

// Workshop returns the newest versions of all the workshop's data.
func (q Queries) Workshop(ctx context.Context) (workshop.Data, error) {
	var data workshop.Data
	err := errors.Join(
		docs(ctx, q.Stocks(), &data.Stocks),
		docs(ctx, q.Machines(), &data.Machines),
		docs(ctx, q.Settings(), &data.Settings),
		docs(ctx, q.Conventions(), &data.Conventions),
		docs(ctx, q.PriceLists(), &data.PriceLists),
		docs(ctx, q.Sheets(), &data.Sheets),
	)
	return data, err
}

func docs[T any](ctx context.Context, shelf Shelf[T], into *[]T) error {
	all, err := shelf.All(ctx)
	for _, d := range all {
		*into = append(*into, d.Doc)
	}
	return err
}
