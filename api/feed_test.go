package api_test

import (
	"bufio"
	"context"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/queue"
)

// countedJobs counts how often plans are read.
type countedJobs struct {
	api.Jobs
	views atomic.Int64
}

// View counts.
func (j *countedJobs) View(ctx context.Context, client string, id uuid.UUID) (*queue.PlanView, error) {
	j.views.Add(1)
	return j.Jobs.View(ctx, client, id)
}

// counted serves the same plans once more, and counts how often they are read.
func (g guarded) counted(t *testing.T) (guarded, *countedJobs) {
	t.Helper()
	j := &countedJobs{Jobs: g.queue}
	handler, err := api.New(api.Config{
		Store: g.store, Jobs: j, List: jobs.NewList(), Log: slog.New(slog.DiscardHandler), Metrics: prometheus.NewRegistry(), PerMinute: -1,
	})
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{Server: httptest.NewServer(handler), store: g.store, queue: g.queue, spec: g.spec, router: g.router, seen: map[string]bool{}}
	t.Cleanup(d.Close)
	return guarded{d}, j
}

// follow returns the data of the events of a stream as they come.
func (g guarded) follow(t *testing.T, bearer, path string) <-chan string {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, g.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Authorization", bearer)
	resp, err := g.Client().Do(req)
	if err != nil || resp.StatusCode != http.StatusOK {
		t.Fatal(resp, err)
	}
	events := make(chan string, 100)
	go func() {
		defer resp.Body.Close()
		defer close(events)
		for lines := bufio.NewScanner(resp.Body); lines.Scan(); {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				events <- data
			}
		}
	}()
	return events
}

// next returns the next event of a stream.
func next(t *testing.T, events <-chan string) string {
	t.Helper()
	select {
	case e, open := <-events:
		if !open {
			t.Fatal("the stream has ended")
		}
		return e
	case <-time.After(10 * time.Second):
		t.Fatal("no event came")
	}
	return ""
}

// However many streams follow a plan, a change of it is read once, and all tell
// the same; who may not see the plan gets no stream.
func TestStreamsShareOneReading(t *testing.T) {
	idle, print, paint := openIdle(t, api.Config{})
	p := idle.queuedPlan(t, print)
	g, j := idle.counted(t)
	g.Client().Timeout = 30 * time.Second // so that a stream that should not be there does not hang
	var streams []<-chan string
	for i := range 20 {
		streams = append(streams, g.follow(t, print, p.Links["self"]+"/events"+[]string{"", "?follow=acceptance"}[i%2]))
		next(t, streams[i])
	}
	g.as(t, paint, http.MethodGet, p.Links["self"]+"/events", "").wants(t, "another client", http.StatusNotFound, "not_found")
	before := j.views.Load()
	const changes = 5
	for range changes {
		if err := g.store.SetStatus(t.Context(), p.ID, "queued", "", nil); err != nil {
			t.Fatal(err)
		}
		one := next(t, streams[0])
		for _, other := range streams[1:] {
			if e := next(t, other); e != one {
				t.Errorf("two streams tell\n%s\n%s", one, e)
			}
		}
	}
	if n := j.views.Load() - before; n != changes {
		t.Errorf("the plan was read %d times for %d changes", n, changes)
	}
	g.as(t, print, http.MethodDelete, p.Links["self"], "").wants(t, "cancelled", http.StatusOK, "")
	for _, s := range streams {
		last := ""
		for e := range s {
			last = e
		}
		if !strings.Contains(last, `"status":"cancelled"`) {
			t.Errorf("a stream ends with %q", last)
		}
	}
}

// The metrics tell how deep the queues are, how old what waits is, and who works.
func TestMetricsTellOfTheQueue(t *testing.T) {
	g, print, _ := openIdle(t, api.Config{})
	staff := g.staff(t)
	wants := func(name string, want float64) {
		t.Helper()
		if n := g.gauge(t, staff, name); n != want {
			t.Errorf("%s is %v, not %v", name, n, want)
		}
	}
	wants(`knifedesk_queue_jobs{queue="batch"}`, 0)
	wants(`knifedesk_queue_oldest_seconds{queue="batch"}`, 0)
	g.queuedPlan(t, print)
	g.queuedPlan(t, print) // the same result: no job more
	wants(`knifedesk_queue_jobs{queue="batch"}`, 1)
	wants(`knifedesk_queue_jobs{queue="interactive"}`, 0)
	if s := g.gauge(t, staff, `knifedesk_queue_oldest_seconds{queue="batch"}`); s <= 0 || s > 60 {
		t.Errorf("the oldest job is %v s old", s)
	}
	wants("knifedesk_workers", 0)
	if err := g.store.Beat(t.Context(), db.Worker{ID: "a worker"}); err != nil {
		t.Fatal(err)
	}
	wants("knifedesk_workers", 1)
}
