package queue_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"log/slog"
	"strings"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

func TestFaultsFailThePlanWithACode(t *testing.T) {
	for _, c := range []struct {
		file, code string
		runs       int
	}{
		{"error", queue.FailureStage, 3},
		{"panic", queue.FailureStage, 3},
		{"hang", queue.FailureTimeout, 3},
		{"stuck", queue.FailureTimeout, 1}, // it cannot be ended: not again
	} {
		t.Run(c.file, func(t *testing.T) {
			f := &fakes{timeout: 100 * time.Millisecond}
			q, store := start(t, f, quick())
			p := submit(t, q, "ann", c.file, request(1))
			if p.Status != plan.Failed || p.Failure != c.code {
				t.Errorf("status %s %q, want %s", p.Status, p.Failure, c.code)
			}
			if n := f.ran()["weeding"]; n != c.runs {
				t.Errorf("the stage ran %d times, want %d", n, c.runs)
			}
			if results, err := store.PlanResults(t.Context(), p.ID); err != nil || len(results) != 3 {
				t.Errorf("%d results kept, %v", len(results), err)
			}
			nothingLeft(t, store)

			if again := submit(t, q, "ann", c.file, request(1)); again.Status != plan.Failed {
				t.Errorf("sent again: %s", again.Status)
			}
			if runs := f.ran(); runs["weeding"] != c.runs || runs["artwork"] != 0 {
				t.Errorf("sent again ran %v", runs)
			}
		})
	}
}

func TestFaultThatPassesIsTriedAgain(t *testing.T) {
	var once sync.Once
	f := &fakes{during: func(_ context.Context, stage string) {
		if stage == "layout" {
			once.Do(func() { panic("once") })
		}
	}}
	q, store := start(t, f, quick())
	p := submit(t, q, "ann", "plain", request(1))
	if p.Status != plan.Ready {
		t.Errorf("status %s %q", p.Status, p.Failure)
	}
	matchesLocal(t, store, p, (&fakes{}).stages(), "plain")
}

func TestStopPutsStagesBack(t *testing.T) {
	f := &fakes{}
	begun := make(chan struct{}, 10)
	f.during = func(ctx context.Context, stage string) {
		if stage == "weeding" {
			begun <- struct{}{}
			<-ctx.Done()
		}
	}
	store := db.From(dbtest.New(t))
	q, err := queue.New(store, f.stages(), quick())
	if err != nil {
		t.Fatal(err)
	}
	if err := q.Start(t.Context()); err != nil {
		t.Fatal(err)
	}
	p, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1)})
	if err != nil {
		t.Fatal(err)
	}
	<-begun
	if err := q.Stop(t.Context()); err != nil {
		t.Fatal(err)
	}
	if after, err := store.Plan(t.Context(), "ann", p.ID); err != nil || after.Status != string(plan.Working) {
		t.Errorf("after the stop: %s, %v", after.Status, err)
	}
	next := &fakes{}
	p = settled(t, startOn(t, store, next.stages(), quick()), p)
	if runs := next.ran(); p.Status != plan.Ready || runs["artwork"] != 0 || runs["weeding"] != 1 {
		t.Errorf("%s after runs of %v", p.Status, runs)
	}
	matchesLocal(t, store, p, (&fakes{}).stages(), "plain")
}

// A worker of a newer program finds work whose key an older one made.
func TestNewerRevisionStartsOldWorkAnew(t *testing.T) {
	store := db.From(dbtest.New(t))
	old, err := queue.New(store, (&fakes{}).stages(), queue.Config{}) // submits only
	if err != nil {
		t.Fatal(err)
	}
	p, err := old.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1)})
	if err != nil {
		t.Fatal(err)
	}
	f := &fakes{}
	newer := f.stages()
	newer[0].Revision = 2
	q := startOn(t, store, newer, quick())
	p = settled(t, q, p)
	matchesLocal(t, store, p, newer, "plain")
	if _, err := store.Result(t.Context(), keyOf(t, (&fakes{}).stages()[0])); err == nil {
		t.Error("a result of the newer program lies under the older one's key")
	}
	nothingLeft(t, store)
}

func keyOf(t *testing.T, first *jobs.Row) string {
	t.Helper()
	r := request(1)
	n, err := jobs.NewNode(first, &r, sha256.Sum256([]byte("plain")))
	if err != nil {
		t.Fatal(err)
	}
	return string(n.Key)
}

func TestLogsNamePlanAndJob(t *testing.T) {
	var text lockedBuffer
	cfg := quick()
	cfg.Log = slog.New(slog.NewJSONHandler(&text, nil))
	q, _ := start(t, &fakes{}, cfg)
	p := submit(t, q, "ann", "plain", request(1))
	for line := range strings.Lines(text.String()) {
		if strings.Contains(line, `"stage done"`) && strings.Contains(line, p.ID.String()) && strings.Contains(line, `"job":`) {
			return
		}
	}
	t.Errorf("no line names the plan and the job of a stage:\n%s", text.String())
}

type lockedBuffer struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.String()
}
