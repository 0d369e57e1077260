package db_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
)

// Jobs that nobody runs are given to others: those of a worker that is silent or unknown,
// and what this one took long ago without knowing of it. What is run by one that lives is
// left alone, and so is what this one has or has just been given. What was to be
// cancelled is cancelled, what was tried too often is given up.
func TestJobsThatNobodyRunsComeBack(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	for worker, ago := range map[string]string{"mine": "0 seconds", "alive": "1 second", "silent": "1 minute"} {
		b.run(`insert into workers (id, beat) values ($1, now() - $2::text::interval)`, worker, ago)
	}
	ids, names := map[string]int64{}, map[int64]string{}
	for _, j := range []struct {
		name, worker, state, ago string
		attempt                  int
		metadata                 string
	}{
		{"of a live worker", "alive", "running", "1 hour", 1, "{}"},
		{"of a silent one", "silent", "running", "1 second", 1, "{}"},
		{"of an unknown one", "gone", "running", "1 second", 2, "{}"},
		{"to be cancelled", "silent", "running", "1 second", 1, `{"cancel_attempted_at":"2026-01-01T00:00:00Z"}`},
		{"tried too often", "silent", "running", "1 second", 5, "{}"},
		{"waiting", "silent", "available", "1 second", 1, "{}"},
		{"mine and held", "mine", "running", "1 hour", 1, "{}"},
		{"mine and unknown", "mine", "running", "1 hour", 1, "{}"},
		{"mine and new", "mine", "running", "1 second", 1, "{}"},
	} {
		var id int64
		if err := b.store.Pool.QueryRow(t.Context(), `
			insert into river_job (args, kind, max_attempts, queue, state, attempted_at, attempt, attempted_by, metadata)
			values ('{}', 'compute_span', 5, 'batch_spans', $1::text::river_job_state, now() - $2::text::interval, $3, array['before', $4::text], $5::text::jsonb) returning id`,
			j.state, j.ago, j.attempt, j.worker, j.metadata).Scan(&id); err != nil {
			t.Fatal(err)
		}
		ids[j.name], names[id] = id, j.name
	}
	returned, err := b.store.ReturnJobs(t.Context(), 10*time.Second, "mine", []int64{ids["mine and held"]})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range returned {
		got = append(got, fmt.Sprintf("%s, %d of %s", names[r.ID], r.Attempt, r.Worker))
	}
	slices.Sort(got)
	want := []string{"mine and unknown, 1 of mine", "of a silent one, 1 of silent", "of an unknown one, 2 of gone", "to be cancelled, 1 of silent", "tried too often, 5 of silent"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("returned (-want +got):\n%s", diff)
	}
	states := map[string]string{}
	for name, id := range ids {
		var state string
		var over bool
		if err := b.store.Pool.QueryRow(t.Context(), `select state, finalized_at is not null from river_job where id = $1`, id).Scan(&state, &over); err != nil {
			t.Fatal(err)
		}
		if states[name] = state; over != (state == "cancelled" || state == "discarded") {
			t.Errorf("%s: %s, over: %v", name, state, over)
		}
	}
	if diff := cmp.Diff(map[string]string{
		"of a live worker": "running", "of a silent one": "available", "of an unknown one": "available", "to be cancelled": "cancelled", "tried too often": "discarded",
		"waiting": "available", "mine and held": "running", "mine and unknown": "available", "mine and new": "running",
	}, states); diff != "" {
		t.Errorf("the states (-want +got):\n%s", diff)
	}
}
