package queue

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/queue/webhook"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivertype"
)

// This file is where the library of the queue is spoken to.

// Span is what a job of the queue is about: to compute the work whose rows name
// the job. All programs know this one kind, whatever jobs of the list they know;
// what a program cannot do it leaves to a newer one.
type Span struct {
	Stage string    `json:"stage"`                 // the first of the span, for those who look into the queue
	List  int       `json:"list"`                  // revision of the list of jobs that it is made by
	Plan  uuid.UUID `json:"plan"`                  // who asked first, for the logs
	Trace string    `json:"traceparent,omitempty"` // of the request that made the plan, likewise
}

// Kind is the name of the kind in the queue.
func (Span) Kind() string { return "compute_span" }

// attempt is one run of a job.
type attempt struct {
	Span
	job    int64
	number int
}

// worker runs the jobs.
type worker struct {
	river.WorkerDefaults[Span]
	queue *Queue
}

// Work computes the span that the job is about.
func (w *worker) Work(ctx context.Context, job *river.Job[Span]) error {
	err := crew{w.queue}.work(ctx, attempt{Span: job.Args, job: job.ID, number: job.Attempt})
	if err != nil {
		w.queue.fillSoon() // the library frees the slot after this
	}
	return err
}

// Timeout is none of the library's: each run of a job on the list has its own.
func (w *worker) Timeout(*river.Job[Span]) time.Duration { return -1 }

// deliveries is how many receivers are told at a time.
const deliveries = 8

// maxRetryPause bounds the pause between two attempts.
const maxRetryPause = 30 * time.Second

// NextRetry doubles the pause with every error.
func (w *worker) NextRetry(job *river.Job[Span]) time.Time {
	return w.queue.cfg.soon(len(job.Errors))
}

// soon is when to try again after one error and so many before.
func (c Config) soon(errors int) time.Time {
	return time.Now().Add(min(c.RetryAfter<<min(errors, 10), maxRetryPause))
}

// laneOf is the library's name of a queue. It changes with the form of Span, so
// that programs never take jobs of a form that they cannot read.
func laneOf(q db.Queue) string { return string(q) + "_spans" }

func newRiver(q *Queue) (*river.Client[pgx.Tx], error) {
	cfg := &river.Config{
		ID:     q.id,
		Logger: q.log,
		// The client tells of new jobs at most once a cooldown, so that of two
		// in quick succession the second may be found by polling only. Polling is
		// most of what a service that rests costs. Each process has an interval of
		// its own: of two in step one would come first for ever, and an older one
		// takes again and again what it has to leave to a newer one.
		FetchCooldown:     time.Millisecond,
		FetchPollInterval: 200*time.Millisecond + rand.N(100*time.Millisecond),
		// The lease brings jobs of dead workers back; this is the second net.
		RescueStuckJobsAfter: 24 * time.Hour,
		SoftStopTimeout:      q.cfg.SoftStop,
	}
	if q.works() {
		cfg.Middleware = []rivertype.Middleware{q.held}
		cfg.Workers = river.NewWorkers()
		river.AddWorker(cfg.Workers, &worker{queue: q})
		river.AddWorker(cfg.Workers, &looker{queue: q})
		river.AddWorker(cfg.Workers, &deliverer{queue: q, sender: webhook.NewSender(q.cfg.Webhooks)})
		cfg.Queues = map[string]river.QueueConfig{deliverLane: {MaxWorkers: deliveries}, lookLane: {MaxWorkers: lookers}}
		for name, n := range map[db.Queue]int{db.Interactive: q.cfg.Interactive, db.Batch: q.cfg.Batch} {
			if n > 0 {
				cfg.Queues[laneOf(name)] = river.QueueConfig{MaxWorkers: n}
			}
		}
	}
	return river.NewClient(riverpgxv5.New(q.store.Pool), cfg)
}

// maxAttempts is the library's own bound. Faults of jobs are counted in the
// work's rows and end it sooner; what is left are outages, which pass.
const maxAttempts = 25

// insert puts a job for a span into its queue and returns its number. Those that are
// there run in the order in which they were admitted.
func (q admitting) insert(ctx context.Context, tx db.Tx, s db.Span) (int64, error) {
	put, err := q.river.InsertTx(ctx, tx.Raw, Span{Stage: s.Stage, List: s.List, Plan: s.Plan, Trace: s.Trace},
		&river.InsertOpts{Queue: laneOf(s.Queue), MaxAttempts: maxAttempts})
	if err != nil {
		return 0, fmt.Errorf("queue: insert a job for %s: %w", s.Stage, err)
	}
	return put.Job.ID, nil
}

// cancelJob cancels a job, running or not. One that is gone, or not admitted yet,
// needs nothing.
func (m *move) cancelJob(ctx context.Context, job int64) error {
	if job < 0 {
		return nil
	}
	_, err := m.river.JobCancelTx(ctx, m.tx.Raw, job)
	if err != nil && !errors.Is(err, river.ErrNotFound) {
		return fmt.Errorf("queue: cancel job %d: %w", job, err)
	}
	return nil
}
