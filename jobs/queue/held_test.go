package queue_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"knifedesk/jobs/queue"

	"github.com/riverqueue/river/rivertype"
)

// A job is held from its beginning until some time after its end, as the library notes
// ends later; one that is run twice at once until both have ended. What ended before the
// time that is asked about is held no more.
func TestJobsAreHeldPastTheirEnd(t *testing.T) {
	h := queue.NewHeld()
	began := time.Now()
	run := func(id int64, within func()) {
		job := &rivertype.JobRow{ID: id}
		if err := h.Work(t.Context(), job, func(context.Context) error { within(); return nil }); err != nil {
			t.Error(err)
		}
	}
	holds := func(when time.Time, want ...int64) {
		t.Helper()
		got := h.Since(when)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("held are %v, want %v", got, want)
		}
	}
	holds(began)
	run(1, func() {
		holds(time.Now().Add(time.Hour), 1)
		run(2, func() { holds(began, 1, 2) })
		run(1, func() { holds(began, 1, 2) })
		holds(began, 1, 2)
	})
	holds(began, 1, 2)
	holds(time.Now().Add(time.Hour))
	holds(began) // what was left out once is forgotten
	run(3, func() {
		run(3, func() {})
		holds(time.Now().Add(time.Hour), 3) // it still runs, and has not only ended
	})
}
