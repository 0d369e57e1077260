package db

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
)

// Table names a kind of the workshop's data; each has a table of its own.
type Table string

// The tables of the workshop's data.
const (
	Stocks      Table = "stocks"      // sheets, rolls and offcuts
	Machines    Table = "machines"    // cutters
	Settings    Table = "settings"    // forces and speeds
	Blades      Table = "blades"      // that were put in
	Conventions Table = "conventions" // what layers and colours mean
	PriceLists  Table = "price_lists"
	Sheets      Table = "sheets" // sizes that are listed by name
	// Calibrations are what minutes are counted with; they are not part of Newest.
	Calibrations Table = "calibrations"
)

// Labelled is the newest version of a document of any kind, as JSON.
type Labelled struct {
	Table Table  `db:"shelf"`
	Doc   []byte `db:"doc"`
}

// newest are the tables of which Newest is made.
func newest() []Table {
	return []Table{Stocks, Machines, Settings, Blades, Conventions, PriceLists, Sheets}
}

// Edition names the state of what Newest returns. Versions of documents are only ever
// added, so that their number is another after every change.
func (q documentTables) Edition(ctx context.Context) (string, error) {
	var parts []string
	for _, t := range newest() {
		parts = append(parts, fmt.Sprintf(`(select count(*) from %s)`, pgx.Identifier{string(t)}.Sanitize()))
	}
	var edition string
	err := q.conn.QueryRow(ctx, `select concat_ws(' ', `+strings.Join(parts, ", ")+`)`).Scan(&edition)
	return edition, wrap("look for changes of the workshop's data", err)
}

// Newest returns the newest versions of all documents that are not withdrawn, by
// kind and ID.
func (q documentTables) Newest(ctx context.Context) ([]Labelled, error) {
	var parts []string
	for _, t := range newest() {
		parts = append(parts, fmt.Sprintf(`
			select '%[1]s' as shelf, id, doc, withdrawn from (select distinct on (id) id, doc, withdrawn from %[2]s order by id, version desc) newest`,
			t, pgx.Identifier{string(t)}.Sanitize()))
	}
	return all[Labelled](ctx, q.on, "list the workshop's data", `
		select shelf, doc::text::bytea as doc from (`+strings.Join(parts, " union all ")+`) d where not withdrawn order by shelf, id`)
}

// Document is one version of a thing in the workshop's data.
type Document[T any] struct {
	ID        string    `db:"id"`
	Version   int       `db:"version"`
	Doc       T         `db:"doc"`
	Withdrawn bool      `db:"withdrawn"`
	Created   time.Time `db:"created"`
}

// Shelf is a table of documents, each with all its versions. A document is
// kept as the JSON of a T, which the caller chooses.
type Shelf[T any] struct {
	on
	table Table
}

// ShelfOf returns a table whose documents are Ts.
func ShelfOf[T any](q Queries, table Table) Shelf[T] { return Shelf[T]{q.documentTables.on, table} }

const documentColumns = "id, version, doc, withdrawn, created"

func (s Shelf[T]) sql(format string) string {
	return fmt.Sprintf(format, pgx.Identifier{string(s.table)}.Sanitize())
}

// what names a step in an error.
func (s Shelf[T]) what(step string) string { return step + " " + string(s.table) }

// All returns the newest version of each document that is not withdrawn, by
// ID.
func (s Shelf[T]) All(ctx context.Context) ([]Document[T], error) {
	return all[Document[T]](ctx, s.on, s.what("list"), s.sql(`
		select * from (
			select distinct on (id) `+documentColumns+` from %s order by id, version desc
		) newest where not withdrawn order by id`))
}

// Newest returns the newest version of a document; ErrNotFound where there is
// none or it is withdrawn.
func (s Shelf[T]) Newest(ctx context.Context, id string) (Document[T], error) {
	doc, err := one[Document[T]](ctx, s.on, s.what("look into"), s.sql(`
		select `+documentColumns+` from %s where id = $1 order by version desc limit 1`), id)
	if err == nil && doc.Withdrawn {
		return doc, wrap(s.what("look into"), ErrNotFound)
	}
	return doc, err
}

// Version returns one version of a document, withdrawn or not.
func (s Shelf[T]) Version(ctx context.Context, id string, version int) (Document[T], error) {
	return one[Document[T]](ctx, s.on, s.what("look into"), s.sql(`
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
	added, err := one[Document[T]](ctx, s.on, s.what("write"), s.sql(`
		insert into %[1]s (id, version, doc, withdrawn)
		select $1, $2 + 1, $3, $4
		where $2 = coalesce((select max(version) from %[1]s where id = $1), 0)
		on conflict do nothing
		returning `+documentColumns), id, after, doc, withdrawn)
	if errors.Is(err, ErrNotFound) {
		return added, wrap(s.what("write")+" "+id, ErrConflict)
	}
	return added, err
}

// Vacant says whether no table of the workshop's data holds a document, not
// even a withdrawn one, and keeps others from adding any before the transaction
// ends.
func (t Tx) Vacant(ctx context.Context) (bool, error) {
	const what = "look for the workshop's data"
	if _, err := (on{t.Raw}).exec(ctx, what, `lock table stocks, machines, settings, conventions, price_lists, sheets
		in share row exclusive mode`); err != nil {
		return false, err
	}
	held, err := column[bool](ctx, on{t.Raw}, what, `
		select exists (select from stocks) or exists (select from machines) or exists (select from settings)
			or exists (select from conventions) or exists (select from price_lists) or exists (select from sheets)`)
	return err == nil && !held[0], err
}
