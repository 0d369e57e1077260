package queue_test

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// Of many plans that came in at once the first is finished before the last
// are far, so that those who wait are served one after the other.
func TestPlansAreFinishedOneAfterTheOther(t *testing.T) {
	var mu sync.Mutex
	var order []string
	f := &fakes{during: func(_ context.Context, stage string) {
		mu.Lock()
		defer mu.Unlock()
		order = append(order, stage)
	}}
	store := db.From(dbtest.New(t))
	before, err := queue.New(store, f.stages(), queue.Config{})
	if err != nil {
		t.Fatal(err)
	}
	var plans []queue.Plan
	for i := range 8 {
		p, err := before.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: fmt.Append(nil, "plain ", i), Request: request(1)})
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, p)
	}
	q := startOn(t, store, f.stages(), queue.Config{Batch: 1})
	for _, p := range plans {
		if p = settled(t, q, p); p.Status != plan.Ready {
			t.Errorf("plan %s is %s", p.ID, p.Status)
		}
	}
	first := slices.Index(order, "estimate")
	begun := 0
	for _, stage := range order[:first] {
		if stage == "artwork" {
			begun++
		}
	}
	if begun > 2 { // the worker may have fetched one more by then
		t.Errorf("%d of %d plans were well begun before one was finished: %v", begun, len(plans), order)
	}
}
