package queue_test

import (
	"context"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
)

// How far a run has come is shown while it lasts, at most once a second and never
// backwards, and is gone when it is done.
func TestPlanShowsHowFarARunIs(t *testing.T) {
	told, enough := make(chan float64, 1000), make(chan struct{})
	f := &fakes{during: func(ctx context.Context, stage string) {
		if stage != "layout" {
			return
		}
		err := budget.Run(ctx, func(b *budget.Budget) {
			for i := range 100 {
				share := 0.5 + float64(i)/200
				if i%10 == 9 {
					share = 0 // as a part that begins anew
				}
				b.Tell(share)
				told <- share
				time.Sleep(28 * time.Millisecond)
			}
			<-enough
		})
		if err != nil {
			t.Error(err)
		}
	}}
	q, store := start(t, f, quick())
	p, err := q.Submit(t.Context(), queue.SubmitParams{Client: "ann", File: []byte("plain"), Request: request(1), Queue: db.Interactive})
	if err != nil {
		t.Fatal(err)
	}
	working(t, store, p, "layout")
	var seen []float64
	look := func() float64 {
		v, err := q.View(t.Context(), "ann", p.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range v.Plan.Progress {
			switch {
			case g.State == view.Working && g.Job == "layout":
				return g.Share
			case g.Share != 0:
				t.Errorf("%s of %s is %g", g.State, g.Job, g.Share)
			}
		}
		return 0
	}
	began := time.Now()
	await(t, "the last share to be shown", func() bool {
		share := look()
		if len(seen) == 0 || seen[len(seen)-1] != share {
			seen = append(seen, share)
		}
		return share > 0.97
	})
	most := 2 + int(time.Since(began)/time.Second) // the share of the start, and what was told before
	for i := 1; i < len(seen); i++ {
		if seen[i] <= seen[i-1] {
			t.Errorf("after %g comes %g", seen[i-1], seen[i])
		}
	}
	if len(seen) < 3 || len(seen) > most {
		t.Errorf("seen %v of %d told", seen, len(told))
	}
	close(enough)
	if after := settled(t, q, p); after.Status != plan.Ready || look() != 0 {
		t.Errorf("%s, %g", after.Status, look())
	}
	p.Status = plan.Ready
	matchesLocal(t, store, p, (&fakes{}).stages(), "plain")
}
