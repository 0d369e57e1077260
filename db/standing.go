package db

import (
	"context"
	"errors"
	"io"
	"net"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgconn"

	"knifedesk/db/migrations"
)

// Standing is how the store is.
type Standing struct {
	Schema  int // the last step of the schema that it has
	Workers int // processes that work on the queue and were heard of within a while
}

// heardOf is within what time a worker has to have been heard of.
const heardOf = 30 * time.Second

// Standing looks how the store is.
func (d *DB) Standing(ctx context.Context) (s Standing, err error) {
	err = d.Pool.QueryRow(ctx, `
		select (select max(version_id) from goose_db_version where is_applied),
			(select count(*) from workers where beat > now() - make_interval(secs => $1))`, heardOf.Seconds()).Scan(&s.Schema, &s.Workers)
	return s, wrap("look how the store is", err)
}

// Schema is the last step of the schema that this program knows.
func Schema() (last int, err error) {
	files, err := migrations.Files.ReadDir(".")
	if err != nil {
		return 0, wrap("list the steps of the schema", err)
	}
	for _, f := range files {
		number, _, _ := strings.Cut(f.Name(), "_")
		n, err := strconv.Atoi(number)
		if err != nil {
			return 0, wrap("list the steps of the schema", err)
		}
		last = max(last, n)
	}
	return last, nil
}

// The classes and codes of Postgres that mean that it does not serve now: a broken
// connection, too many of them, and its going down or coming up.
const (
	classConnection  = "08"
	codeTooMany      = "53300"
	codeShuttingDown = "57P01"
	codeCrashed      = "57P02"
	codeStartingUp   = "57P03"
)

// Outage says whether an error means that the database cannot be reached or does
// not serve now, so that the same will be well later.
func Outage(err error) bool {
	var connect *pgconn.ConnectError
	var network *net.OpError
	if errors.As(err, &connect) || errors.As(err, &network) || pgconn.SafeToRetry(err) {
		return true
	}
	if errors.Is(err, io.ErrUnexpectedEOF) { // the connection ended in the midst of an answer
		return true
	}
	switch c := code(err); c {
	case codeTooMany, codeShuttingDown, codeCrashed, codeStartingUp:
		return true
	default:
		return strings.HasPrefix(c, classConnection)
	}
}
