package dbtest

import (
	"bytes"
	"encoding/hex"
	"testing"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/klauspost/compress/zstd"

	"knifedesk/db"
)

// Holding returns the names of the tables of which a row holds these bytes, as
// text or within a bytea, and of the store of large objects where one of these
// holds them. Results that are packed are looked at as they were before.
func Holding(t testing.TB, pool *pgxpool.Pool, what []byte) (tables []string) {
	t.Helper()
	ctx := t.Context()
	rows, err := pool.Query(ctx, `select quote_ident(schemaname) || '.' || quote_ident(tablename)
		from pg_tables where schemaname not in ('pg_catalog', 'information_schema') order by 1`)
	if err != nil {
		t.Fatal(err)
	}
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	// A row as text shows a bytea in hexadecimal digits.
	digits := hex.EncodeToString(what)
	var text *string // nil: no text has such bytes
	if utf8.Valid(what) {
		asText := string(what)
		text = &asText
	}
	for name, query := range holdingQueries(names) {
		var held bool
		if err := pool.QueryRow(ctx, query, text, digits).Scan(&held); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if held {
			tables = append(tables, name)
		}
	}
	if packed(t, pool, what) {
		tables = append(tables, "packed results")
	}
	return tables
}

// packed says whether a result that is packed holds these bytes.
func packed(t testing.TB, pool *pgxpool.Pool, what []byte) bool {
	t.Helper()
	rows, err := pool.Query(t.Context(), `select body from results where codec = $1`, db.Zstd)
	if err != nil {
		t.Fatal(err)
	}
	bodies, err := pgx.CollectRows(rows, pgx.RowTo[[]byte])
	if err != nil {
		t.Fatal(err)
	}
	unpack, err := zstd.NewReader(nil)
	if err != nil {
		t.Fatal(err)
	}
	defer unpack.Close()
	for _, body := range bodies {
		plain, err := unpack.DecodeAll(body, nil)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(plain, what) {
			return true
		}
	}
	return false
}

// holdingQueries asks of each table whether a row holds $1, or $2 in a bytea.
func holdingQueries(tables []string) map[string]string {
	all := map[string]string{"large objects": `select exists (select from pg_largeobject
		where strpos(encode(data, 'hex'), $2) > 0 or strpos(encode(data, 'hex'), encode(convert_to($1, 'UTF8'), 'hex')) > 0)`}
	for _, t := range tables {
		all[t] = `select exists (select from ` + t + ` r where strpos(replace(r::text, '''''', ''''), $1) > 0 or strpos(r::text, $2) > 0)`
	}
	return all
}
