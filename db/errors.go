package db

import (
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// Faults of a call, to be matched with errors.Is. Every other error of this
// package is an outage.
var (
	ErrNotFound = errors.New("not found")
	ErrConflict = errors.New("changed by another meanwhile")
	// ErrAgain ends a transaction that saw another at the same thing, so that it
	// is run again.
	ErrAgain = errors.New("another was quicker")
	// ErrBusy: others were at the same thing each time that a transaction was tried. It
	// may go through in a moment.
	ErrBusy = errors.New("others were quicker each time")
	// ErrText: Postgres cannot keep the text, which holds a zero byte or is
	// no UTF-8.
	ErrText = errors.New("a text cannot be stored")
)

// The codes of Postgres that mean something here (appendix A of its manual).
const (
	codeSerialization  = "40001"
	codeDeadlock       = "40P01"
	codeForeignKey     = "23503"
	codeBadEncoding    = "22021"
	codeUntranslatable = "22P05"
)

func code(err error) string {
	var pg *pgconn.PgError
	if errors.As(err, &pg) {
		return pg.Code
	}
	return ""
}

// crowded says whether a transaction was ended because another was at the same thing.
func crowded(err error) bool {
	c := code(err)
	return errors.Is(err, ErrAgain) || c == codeSerialization || c == codeDeadlock
}

// lostToAnother says whether the transaction would see another world if it ran
// again. A broken reference is of that kind: what a row refers to was there
// when the transaction looked, and another erased it meanwhile.
func lostToAnother(err error) bool {
	return crowded(err) || code(err) == codeForeignKey
}

// classify gives an error of the driver the meaning it has here.
func classify(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, pgx.ErrNoRows):
		return ErrNotFound
	case code(err) == codeBadEncoding, code(err) == codeUntranslatable:
		return fmt.Errorf("%w: %w", ErrText, err)
	}
	return err
}

// wrap adds what was tried to an error of the driver.
func wrap(what string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("db: %s: %w", what, classify(err))
}
