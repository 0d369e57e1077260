package queue_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

func TestWaitEndsWithItsContext(t *testing.T) {
	store := db.From(dbtest.New(t))
	q, p := put(t, store, "plain") // nobody works
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	seen, err := q.Wait(ctx, "ann", p.ID)
	if !errors.Is(err, context.DeadlineExceeded) || seen.Status != plan.Queued {
		t.Errorf("%s, %v", seen.Status, err)
	}
}

// An API process without workers hears at once of what a worker did.
func TestWaitIsWokenByAnotherProcess(t *testing.T) {
	store := db.From(dbtest.New(t))
	api := startOn(t, store, (&fakes{}).stages(), queue.Config{})
	release := make(chan struct{})
	startOn(t, store, (&fakes{during: func(_ context.Context, stage string) {
		if stage == "estimate" {
			<-release
		}
	}}).stages(), quick())
	p, err := api.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1)})
	if err != nil {
		t.Fatal(err)
	}
	changed, stop := api.Watch(p.ID)
	defer stop()
	working(t, store, p, "estimate")
	select {
	case <-changed:
	case <-time.After(10 * time.Second): // Watch does not look by itself
		t.Error("six stages went by unheard")
	}
	var woken time.Duration
	done := make(chan queue.Plan)
	go func() { done <- settled(t, api, p) }()
	time.Sleep(200 * time.Millisecond)
	began := time.Now()
	close(release)
	if after := <-done; after.Status != plan.Ready {
		t.Errorf("status %s", after.Status)
	}
	// Wait looks by itself every two seconds only.
	if woken = time.Since(began); woken > time.Second {
		t.Errorf("woken after %v", woken)
	}
}
