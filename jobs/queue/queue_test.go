package queue_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/prometheus/client_golang/prometheus"
)

func TestPlanRunsThroughAllStages(t *testing.T) {
	f := &fakes{}
	q, store := start(t, f, quick())
	p := submit(t, q, "ann", "plain", request(1))
	if p.Status != plan.Ready {
		t.Fatalf("status %s", p.Status)
	}
	if diff := cmp.Diff(each(), f.ran()); diff != "" {
		t.Errorf("runs:\n%s", diff)
	}
	matchesLocal(t, store, p, (&fakes{}).stages(), "plain")
	stages, err := store.Stages(t.Context(), p.ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range stages {
		if s.State != "done" || s.Reused || s.Started == nil || s.Ended == nil {
			t.Errorf("stage %+v", s)
		}
	}
}

func TestEqualPlansShareWork(t *testing.T) {
	f := &fakes{}
	registry := prometheus.NewRegistry()
	cfg := quick()
	cfg.Registry = registry
	q, store := start(t, f, cfg)
	first := submit(t, q, "ann", "plain", request(1))
	f.ran()

	// Another client: nothing runs, and Submit itself finds it ready.
	second, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ben", File: []byte("plain"), Request: request(1)})
	if err != nil || second.Status != plan.Ready {
		t.Fatalf("an equal plan: %s, %v", second.Status, err)
	}
	if runs := f.ran(); len(runs) != 0 {
		t.Errorf("an equal plan ran %v", runs)
	}
	matchesLocal(t, store, second, (&fakes{}).stages(), "plain")
	if second.ID == first.ID || second.Drawing == first.Drawing {
		t.Error("plans and drawings belong to their client")
	}

	for _, c := range []struct {
		what string
		r    plan.Request
		want map[string]int
	}{
		{"another price", request(2), map[string]int{"estimate": 1}},
		{"two copies", plan.Request{Copies: 2, Prices: request(1).Prices}, map[string]int{"layout": 1, "passes": 1, "estimate": 1}},
		{"a region turned over", plan.Request{Copies: 1, Turned: []int{3}, Prices: request(1).Prices},
			map[string]int{"weeding": 1, "layout": 1, "passes": 1, "estimate": 1}},
	} {
		submit(t, q, "ann", "plain", c.r)
		if diff := cmp.Diff(c.want, f.ran()); diff != "" {
			t.Errorf("%s ran:\n%s", c.what, diff)
		}
	}
	runs := gathered(t, registry, "knifedesk_stage_runs_total")
	if runs["estimate"] != 4 || runs["read"] != 1 {
		t.Errorf("runs in the metrics: %v", runs)
	}
	if reused := gathered(t, registry, "knifedesk_stage_reused_total"); reused["read"] != 4 {
		t.Errorf("reused in the metrics: %v", reused)
	}
}

// gathered returns the values of a counter by job.
func gathered(t *testing.T, from prometheus.Gatherer, name string) map[string]float64 {
	t.Helper()
	families, err := from.Gather()
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]float64{}
	for _, f := range families {
		if f.GetName() != name {
			continue
		}
		for _, m := range f.GetMetric() {
			for _, l := range m.GetLabel() {
				if l.GetName() == "stage" {
					values[l.GetValue()] += m.GetCounter().GetValue()
				}
			}
		}
	}
	return values
}

func TestEqualPlansAtOnceRunOnce(t *testing.T) {
	f := &fakes{pause: 20 * time.Millisecond}
	q, store := start(t, f, quick())
	plans := make([]queue.Plan, 24)
	var all sync.WaitGroup
	for i := range plans {
		all.Go(func() {
			p, err := q.Submit(t.Context(), queue.SubmitParams{
				Client: []string{"ann", "ben", "cat"}[i%3], File: []byte("plain"), Request: request(1),
				Queue: []db.Queue{db.Interactive, db.Batch}[i%2],
			})
			if err != nil {
				t.Error(err)
			}
			plans[i] = p
		})
	}
	all.Wait()
	for _, p := range plans {
		matchesLocal(t, store, settled(t, q, p), (&fakes{}).stages(), "plain")
	}
	if diff := cmp.Diff(each(), f.ran()); diff != "" {
		t.Errorf("24 equal plans ran:\n%s", diff)
	}
	nothingLeft(t, store)
}

// nothingLeft checks that no work and no unfinished job stayed behind.
func nothingLeft(t *testing.T, store *db.DB) {
	t.Helper()
	const left = `select (select count(*) from work) + (select count(*) from waiters) +
		(select count(*) from river_job where finalized_at is null)`
	var n int
	for range 100 { // the queue notes the end of a job a moment later
		if err := store.Pool.QueryRow(t.Context(), left).Scan(&n); err != nil {
			t.Fatal(err)
		}
		if n == 0 {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("%d rows of work, waiters and jobs left", n)
}

func TestBlockRefusesAndKeepsWhatItHas(t *testing.T) {
	f := &fakes{}
	q, store := start(t, f, quick())
	p := submit(t, q, "ann", "block", request(1))
	if p.Status != plan.Refused || p.Failure != "" {
		t.Fatalf("status %s %q", p.Status, p.Failure)
	}
	if diff := cmp.Diff(map[string]int{"read": 1, "size": 1, "artwork": 1}, f.ran()); diff != "" {
		t.Errorf("runs:\n%s", diff)
	}
	matchesLocal(t, store, p, (&fakes{}).stages(), "block")
}

func TestForeignersFindNothing(t *testing.T) {
	q, _ := start(t, &fakes{}, quick())
	p := submit(t, q, "ann", "plain", request(1))
	ctx := t.Context()
	_, cancelErr := q.Cancel(ctx, "ben", p.ID)
	_, waitErr := q.Wait(ctx, "ben", p.ID)
	_, drawingErr := q.Submit(ctx, queue.SubmitParams{Client: "ben", Drawing: p.Drawing, Request: request(1)})
	_, olderErr := q.Submit(ctx, queue.SubmitParams{Client: "ben", File: []byte("plain"), Supersedes: &p.ID, Request: request(1)})
	_, noneErr := q.Cancel(ctx, "ann", uuid.New())
	for i, err := range []error{cancelErr, waitErr, drawingErr, olderErr, noneErr} {
		if !errors.Is(err, db.ErrNotFound) {
			t.Errorf("case %d: %v", i, err)
		}
	}
	if _, err := q.Submit(ctx, queue.SubmitParams{Client: "ann", Drawing: p.Drawing, Supersedes: &p.ID, Request: request(1)}); err != nil {
		t.Errorf("one's own drawing and older plan: %v", err)
	}
}

func TestSubmitIsOneTransaction(t *testing.T) {
	q, store := start(t, &fakes{}, quick())
	_, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1),
		With: func(_ context.Context, _ db.Tx, _ db.Plan) error { return errFake }})
	if !errors.Is(err, errFake) {
		t.Fatal(err)
	}
	var n int
	row := store.Pool.QueryRow(t.Context(), `select (select count(*) from plans) + (select count(*) from drawings) +
		(select count(*) from blobs) + (select count(*) from work) + (select count(*) from river_job)`)
	if err := row.Scan(&n); err != nil || n != 0 {
		t.Errorf("%d rows of an undone submission, %v", n, err)
	}
	text := request(1)
	text.Size.Frame = "A\x004"
	_, err = q.Submit(t.Context(), queue.SubmitParams{Client: "a\x00", File: []byte("plain"), Request: text})
	if !errors.Is(err, db.ErrText) {
		t.Errorf("a zero byte: %v", err)
	}
}
