package queue_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/jobs/queue"
)

// What the queue itself costs a plan, in processor time of this process and of
// Postgres, with jobs that do nothing:
//
//	go test ./jobs/queue -run '^$' -bench PlanOfNothing -benchtime 1x
func BenchmarkPlanOfNothing(b *testing.B) {
	for b.Loop() {
		store := db.From(dbtest.New(b))
		q, err := queue.New(store, (&fakes{}).stages(), queue.Config{Interactive: 2, Batch: 2})
		if err != nil {
			b.Fatal(err)
		}
		if err := q.Start(b.Context()); err != nil {
			b.Fatal(err)
		}
		plan := func(i int) {
			p, err := q.Submit(b.Context(), queue.SubmitParams{Client: "ann", File: fmt.Append(nil, "plain ", i), Request: request(1), Queue: db.Interactive})
			if err != nil {
				b.Fatal(err)
			}
			if _, err := q.Wait(b.Context(), "ann", p.ID); err != nil {
				b.Fatal(err)
			}
		}
		for i := range 20 {
			plan(-1 - i)
		}
		m := cost.NewMeter(b, os.Getpid())
		m.Rest(2 * time.Second)
		b.ReportMetric(m.Of(200, plan), "ms/plan")
		if err := q.Stop(b.Context()); err != nil {
			b.Error(err)
		}
	}
}
