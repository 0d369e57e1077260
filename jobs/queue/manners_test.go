package queue_test

import (
	"context"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// What is heavy, and what nobody waits for, stands still while a light plan that
// somebody waits for is computed in the same process, though not for longer than it has worked,
// and goes on then.
func TestWhoIsWaitedForGoesFirst(t *testing.T) {
	for name, first := range map[string]struct {
		cost float64
		lane db.Queue
	}{"heavy": {1, db.Interactive}, "nobody waits": {0, db.Batch}} {
		t.Run(name, func(t *testing.T) {
			var looks, reads, weedings atomic.Int64
			begun, enough := make(chan struct{}), make(chan struct{})
			var stood, wentOn atomic.Bool
			f := &fakes{cost: first.cost}
			f.during = func(ctx context.Context, stage string) {
				switch {
				case stage == "weeding" && weedings.Add(1) == 1:
					close(begun)
					_ = budget.Run(ctx, func(b *budget.Budget) {
						for open := true; open; {
							b.Spend(1 << 10)
							looks.Add(1)
							select {
							case <-enough:
								open = false
							default:
							}
						}
					})
				case stage == "read" && reads.Add(1) == 2:
					time.Sleep(50 * time.Millisecond) // by when it has looked
					before := looks.Load()
					time.Sleep(400 * time.Millisecond)
					stood.Store(looks.Load()-before <= 2)
					wentOn.Store(comesTrue(func() bool { return looks.Load()-before > 2 }))
					close(enough)
				}
			}
			store := db.From(dbtest.New(t))
			q := startOn(t, store, f.stages(), queue.Config{Interactive: 2, Batch: 1, Heavy: 1})
			long, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("long"), Request: request(1), Queue: first.lane})
			if err != nil {
				t.Fatal(err)
			}
			<-begun
			time.Sleep(time.Second) // which it may stand still for
			short, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ben", File: []byte("short"), Request: request(1), Queue: db.Interactive})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range []queue.Plan{short, long} {
				if p = settled(t, q, p); p.Status != plan.Ready {
					t.Errorf("a plan is %s", p.Status)
				}
			}
			if !stood.Load() || !wentOn.Load() {
				t.Errorf("what could wait stood still: %t, and went on: %t", stood.Load(), wentOn.Load())
			}
		})
	}
}

// comesTrue reports whether it becomes true in a time that is long on any machine.
func comesTrue(is func() bool) bool {
	for began := time.Now(); time.Since(began) < 20*time.Second; time.Sleep(time.Millisecond) {
		if is() {
			return true
		}
	}
	return false
}
