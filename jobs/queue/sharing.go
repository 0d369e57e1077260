package queue

import (
	"context"
	"fmt"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"

	"github.com/google/uuid"
	"github.com/riverqueue/river"
)

// Sharing says how members of class sets come to lie on common loads: the second kind
// of root, beside plans, for which results are computed.
type Sharing struct {
	Rows []*jobs.Row // the jobs, in their order
	From string      // the job of a plan whose result they start from
	// Nodes returns the nodes of a group, one for each of Rows.
	Nodes func(common *plan.Request, members []jobs.Sharer) ([]jobs.Node, error)
	// Digest is what callers read of a group.
	Digest func(common *plan.Request, all jobs.Results) *class.Group
}

// SharingOf returns how the jobs of a list share loads.
func SharingOf(l *jobs.List) *Sharing {
	return &Sharing{
		Rows: l.Shared, From: l.Weeding.Row().Name, Nodes: l.SharedNodes,
		Digest: func(common *plan.Request, all jobs.Results) *class.Group {
			return class.GroupOf(common, l.Share.In(all), l.SharePasses.In(all), l.ShareEstimate.In(all))
		},
	}
}

// lookJob is a job of the queue that looks at a class set.
type lookJob struct {
	Set uuid.UUID `json:"class_set"`
}

// Kind is the name of the kind in the queue.
func (lookJob) Kind() string { return "look_at_class_set" }

// lookLane is the library's name of the queue of these jobs, and lookers is how many
// run at a time.
const (
	lookLane = "class_sets"
	lookers  = 2
)

// lookLater has sets looked at once the transaction is committed.
func (q *telling) lookLater(ctx context.Context, tx db.Tx, sets ...uuid.UUID) error {
	for _, set := range sets {
		if err := tx.LookAtClass(ctx, set); err != nil {
			return err
		}
		if _, err := q.river.InsertTx(ctx, tx.Raw, lookJob{set}, &river.InsertOpts{Queue: lookLane, MaxAttempts: 1000}); err != nil {
			return fmt.Errorf("queue: insert a look at a class set: %w", err)
		}
	}
	return nil
}

// looker looks at class sets.
type looker struct {
	river.WorkerDefaults[lookJob]
	queue *Queue
}

// Work looks at one set.
func (w *looker) Work(ctx context.Context, job *river.Job[lookJob]) error {
	return w.queue.classes.look(ctx, job.Args.Set)
}

// NextRetry doubles the pause with every error.
func (w *looker) NextRetry(job *river.Job[lookJob]) time.Time {
	return w.queue.cfg.soon(len(job.Errors))
}

// laidNothing says whether the first result of a group has no load, so that nothing
// follows from it.
func laidNothing(d view.Digest) bool { return d.Layout != nil && d.Layout.Loads == 0 }
