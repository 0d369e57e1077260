package queue

import (
	"context"
	"time"

	"knifedesk/jobs/estimate"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
)

// Task is what a job is about: the result to compute.
type Task struct {
	Key      string    `json:"key"`
	Stage    string    `json:"stage"`
	Revision int       `json:"revision"` // of the stage whose key it is
	Plan     uuid.UUID `json:"plan"`     // who asked first, for the logs
}

func (t Task) task() Task { return t }

// The kinds of job, one a stage.
type (
	// ReadDrawing reads what arrived.
	ReadDrawing struct{ Task }
	// RepairScale finds the true size.
	RepairScale struct{ Task }
	// MakeArtwork mends lines and gives them operations.
	MakeArtwork struct{ Task }
	// MapWeeding says what stays and what is removed.
	MapWeeding struct{ Task }
	// LayOutStock places the copies on the stock.
	LayOutStock struct{ Task }
	// PlanPasses orders the strokes.
	PlanPasses struct{ Task }
	// PricePlan estimates minutes and money.
	PricePlan struct{ Task }
)

// Kind is the name of the kind in the queue.
func (ReadDrawing) Kind() string { return "read_drawing" }

// Kind is the name of the kind in the queue.
func (RepairScale) Kind() string { return "repair_scale" }

// Kind is the name of the kind in the queue.
func (MakeArtwork) Kind() string { return "make_artwork" }

// Kind is the name of the kind in the queue.
func (MapWeeding) Kind() string { return "map_weeding" }

// Kind is the name of the kind in the queue.
func (LayOutStock) Kind() string { return "lay_out_stock" }

// Kind is the name of the kind in the queue.
func (PlanPasses) Kind() string { return "plan_passes" }

// Kind is the name of the kind in the queue.
func (PricePlan) Kind() string { return "price_plan" }

// kinds lists the kind of job that runs each stage.
func kinds() map[string]kind {
	return map[string]kind{
		plan.StageRead:    kindOf(func(t Task) ReadDrawing { return ReadDrawing{t} }),
		plan.StageSize:    kindOf(func(t Task) RepairScale { return RepairScale{t} }),
		plan.StageArtwork: kindOf(func(t Task) MakeArtwork { return MakeArtwork{t} }),
		plan.StageWeeding: kindOf(func(t Task) MapWeeding { return MapWeeding{t} }),
		plan.StageLayout:  kindOf(func(t Task) LayOutStock { return LayOutStock{t} }),
		plan.StagePasses:  kindOf(func(t Task) PlanPasses { return PlanPasses{t} }),
		estimate.Stage:    kindOf(func(t Task) PricePlan { return PricePlan{t} }),
	}
}

// kind makes jobs of one kind and registers their worker.
type kind struct {
	args     func(Task) river.JobArgs
	register func(*river.Workers, *Queue)
}

func kindOf[T stageArgs](of func(Task) T) kind {
	return kind{
		args:     func(t Task) river.JobArgs { return of(t) },
		register: func(w *river.Workers, q *Queue) { river.AddWorker(w, &worker[T]{queue: q}) },
	}
}

type stageArgs interface {
	river.JobArgs
	task() Task
}

// worker runs the jobs of one kind. All do the same: see Queue.work.
type worker[T stageArgs] struct {
	river.WorkerDefaults[T]
	queue *Queue
}

// Work computes the result that the job is about.
func (w *worker[T]) Work(ctx context.Context, job *river.Job[T]) error {
	return w.queue.work(ctx, attempt{
		Task: job.Args.task(), job: job.ID, number: job.Attempt,
		complete: func(tx pgx.Tx) error {
			_, err := river.JobCompleteTx[*riverpgxv5.Driver](ctx, tx, job)
			return err
		},
	})
}

// Timeout leaves time past the stage's own, so that an overrun is noted in
// the plan.
func (w *worker[T]) Timeout(job *river.Job[T]) time.Duration {
	cfg := w.queue.cfg
	return cfg.timeout(job.Args.task().Stage) + cfg.Grace + time.Minute
}

// maxRetryPause bounds the pause between two attempts.
const maxRetryPause = 30 * time.Second

// NextRetry doubles the pause with every error.
func (w *worker[T]) NextRetry(job *river.Job[T]) time.Time {
	pause := w.queue.cfg.RetryAfter << min(len(job.Errors), 10)
	return time.Now().Add(min(pause, maxRetryPause))
}
