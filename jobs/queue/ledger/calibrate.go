package ledger

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/calibration"
)

// theOnly is the name of the one calibration that a workshop has.
const theOnly = "workshop"

// mostJobs bounds the jobs that are fitted to, the newest: blades, films and hands are
// others after some years.
const mostJobs = 500

// ErrFewJobs says that too few jobs were timed to fit anything.
var ErrFewJobs = errors.New("ledger: too few timed jobs")

func calibrations(q db.Queries) db.Shelf[calibration.Calibration] {
	return db.ShelfOf[calibration.Calibration](q, db.Calibrations)
}

// Calibration returns what plans count minutes with; nil: the start values.
func Calibration(ctx context.Context, q db.Queries) (*calibration.Calibration, error) {
	taken, err := calibrations(q).Newest(ctx, theOnly)
	if errors.Is(err, db.ErrNotFound) {
		return nil, nil
	}
	return &taken.Doc, err
}

// Propose fits what plans count minutes with to the jobs that were timed, as of a day,
// and returns how many there were. It is nil where they are too few.
func Propose(ctx context.Context, q db.Queries, day time.Time) (*calibration.Calibration, int, error) {
	rows, err := q.TimedJobs(ctx, mostJobs)
	if err != nil {
		return nil, 0, err
	}
	timed := make([]calibration.Job, len(rows))
	for i, row := range rows {
		if err := json.Unmarshal(row, &timed[i]); err != nil {
			return nil, 0, fmt.Errorf("ledger: a timed job: %w", err)
		}
	}
	c := calibration.Of(timed, day.UTC().Format(time.DateOnly))
	if c.Cutter == nil && c.Bench == nil {
		c = nil
	}
	return c, len(timed), nil
}

// Calibrate has plans count minutes with what is proposed, unless check refuses what
// is there. It fails with ErrFewJobs, and with db.ErrConflict where another was quicker.
func (b Book) Calibrate(ctx context.Context, check func(db.Queries) error) error {
	return b.store.InTx(ctx, func(tx db.Tx) error {
		old, err := calibrations(tx.Queries).Newest(ctx, theOnly)
		if err != nil && !errors.Is(err, db.ErrNotFound) {
			return err
		}
		if err := check(tx.Queries); err != nil {
			return err
		}
		c, _, err := Propose(ctx, tx.Queries, time.Now())
		if err != nil {
			return err
		}
		if c == nil {
			return ErrFewJobs
		}
		_, err = calibrations(tx.Queries).Put(ctx, theOnly, old.Version, *c)
		return err
	})
}

// Uncalibrate has plans count minutes with the start values again, unless check refuses
// what is there. It fails with db.ErrConflict where another was quicker.
func (b Book) Uncalibrate(ctx context.Context, check func(db.Queries) error) error {
	return b.store.InTx(ctx, func(tx db.Tx) error {
		old, err := calibrations(tx.Queries).Newest(ctx, theOnly)
		none := errors.Is(err, db.ErrNotFound)
		if err != nil && !none {
			return err
		}
		if err := check(tx.Queries); err != nil || none {
			return err
		}
		return calibrations(tx.Queries).Withdraw(ctx, theOnly, old.Version)
	})
}
