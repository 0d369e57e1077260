package ledger_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/queue/ledger"

	"github.com/google/uuid"
)

// What outcomes say of minutes is fitted to from ten on and used once it is taken; of
// one that was taken back neither the minutes nor the wear of the blade count.
func TestOutcomesCalibrate(t *testing.T) {
	d := open(t)
	d.receive(film, 50000)
	var last uuid.UUID
	for range calibration.LeastJobs {
		p := d.plan(film, 350)
		d.mustAccept(p)
		posting, err := d.report(ledger.Outcome{Plan: p, CutterS: 360 + 900, BenchS: 250}) // the motion takes half as long again
		if err != nil {
			t.Fatal(err)
		}
		last = posting
	}
	if c, err := ledger.Calibration(t.Context(), d.store.Queries); c != nil || err != nil {
		t.Errorf("before it is taken: %+v, %v", c, err)
	}
	if err := d.book.Calibrate(t.Context(), asItIs); err != nil {
		t.Fatal(err)
	}
	c, err := ledger.Calibration(t.Context(), d.store.Queries)
	if err != nil || math.Abs(c.Cutter.Values[0]-1.5) > 0.01 || c.Cutter.Jobs != 10 {
		t.Fatalf("%+v, %v", c, err)
	}
	metres := func(want int64) {
		t.Helper()
		worn, err := d.store.Worn(t.Context())
		if err != nil || len(worn) != 1 || worn[0].Blade != "b12" || worn[0].Family != "removable_film" || worn[0].CutMM != want {
			t.Errorf("%+v, %v; want %d mm", worn, err, want)
		}
	}
	metres(21000)
	if _, err := d.book.Reverse(t.Context(), last, "", "", nil); err != nil {
		t.Fatal(err)
	}
	metres(18900)
	if none, timed, err := ledger.Propose(t.Context(), d.store.Queries, time.Now()); none != nil || timed != 9 || err != nil {
		t.Errorf("%+v of %d jobs, %v", none, timed, err)
	}
	if err := d.book.Calibrate(t.Context(), asItIs); !errors.Is(err, ledger.ErrFewJobs) {
		t.Errorf("%v", err)
	}
	for range 2 {
		if err := d.book.Uncalibrate(t.Context(), asItIs); err != nil {
			t.Fatal(err)
		}
	}
	if c, err := ledger.Calibration(t.Context(), d.store.Queries); c != nil || err != nil {
		t.Errorf("start values: %+v, %v", c, err)
	}
}

// asItIs takes whatever is there.
func asItIs(db.Queries) error { return nil }
