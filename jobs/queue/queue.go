// Package queue runs plans through the stages as jobs of a queue in Postgres.
//
// The unit of work is a result, not a plan. A stage's result lies under a key
// made of all that goes into it (plan.Stage.Key), so equal requests, also of
// different clients, come to the same key. A plan that needs a result which
// is there goes on at once; one that needs a result which is being computed
// waits for it beside the others; only the first to ask inserts a job. When
// the last plan stops waiting the job is cancelled.
//
//	Submit ─▶ move.on ─▶ result there? ── yes ─▶ next stage … ─▶ ready
//	             ▲            │ no
//	             │            ▼
//	          finish ◀── compute ◀── claim ◀── job (one a key)
//
// One transaction takes a result in: it stores the bytes, ends the work, moves
// every plan that waited on, and inserts their next jobs. A crash anywhere
// repeats at most one stage. The job and attempt in the work's row own it:
// the result of an attempt that was taken for dead is turned away.
//
// Locks are taken in the order key waited for, plans by ID, keys of later
// stages; where two transactions cross all the same, Postgres ends one and
// db.InTx runs it again.
package queue

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
)

// Config says how a Queue works. The zero value of a field is its default.
type Config struct {
	// Interactive and Batch are how many jobs of each queue run at a time.
	// With both 0 the process only submits, as an API without workers does.
	Interactive, Batch int
	// Timeout bounds the run of a stage, 60 s; Timeouts by stage name.
	Timeout  time.Duration
	Timeouts map[string]time.Duration
	// Grace is what a stage has to end in once its context has, 5 s. After
	// that it is left to itself and its result is dropped.
	Grace time.Duration
	// Faults is how often a stage may end in an error or a panic before the
	// plans that wait for it fail, 3.
	Faults int
	// Losses is how often the worker of a stage may die of it, 5.
	Losses int
	// RetryAfter is the pause after the first error, doubled with each
	// further one up to 30 s; 1 s.
	RetryAfter time.Duration
	// Lease is how long a worker may be silent before its jobs go to others,
	// 5 s.
	Lease time.Duration
	// SoftStop is how long Stop lets stages run on before it ends them, 10 s.
	SoftStop time.Duration

	Log      *slog.Logger          // nil: nothing is logged
	Registry prometheus.Registerer // nil: nothing is measured
}

func (c Config) withDefaults() Config {
	set := func(d *time.Duration, to time.Duration) {
		if *d <= 0 {
			*d = to
		}
	}
	set(&c.Timeout, time.Minute)
	set(&c.Grace, 5*time.Second)
	set(&c.RetryAfter, time.Second)
	set(&c.Lease, 5*time.Second)
	set(&c.SoftStop, 10*time.Second)
	if c.Faults <= 0 {
		c.Faults = 3
	}
	if c.Losses <= 0 {
		c.Losses = 5
	}
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	if c.Registry == nil {
		c.Registry = prometheus.NewRegistry()
	}
	return c
}

// timeout of a stage.
func (c Config) timeout(stage string) time.Duration {
	if t, ok := c.Timeouts[stage]; ok {
		return t
	}
	return c.Timeout
}

// longest of all timeouts.
func (c Config) longest() time.Duration {
	longest := c.Timeout
	for _, t := range c.Timeouts {
		longest = max(longest, t)
	}
	return longest
}

// Queue takes plans in and works on them. Its methods may be called from
// several goroutines.
type Queue struct {
	store   *db.DB
	stages  []plan.Stage
	kinds   map[string]kind
	cfg     Config
	log     *slog.Logger
	metrics *metrics
	river   *river.Client[pgx.Tx]
	id      string
	hub     hub

	pulse   pulse
	stop    context.CancelFunc
	running sync.WaitGroup
}

// New returns a queue that runs the stages, in this order, on the store. The
// store must be migrated. Nothing runs before Start.
func New(store *db.DB, stages []plan.Stage, cfg Config) (*Queue, error) {
	cfg = cfg.withDefaults()
	q := &Queue{store: store, stages: stages, cfg: cfg, log: cfg.Log, id: uuid.NewString(), kinds: kinds()}
	for _, s := range stages {
		if _, ok := q.kinds[s.Name]; !ok {
			return nil, fmt.Errorf("jobs: no kind of job runs the stage %q", s.Name)
		}
	}
	var err error
	if q.metrics, err = newMetrics(cfg.Registry); err != nil {
		return nil, fmt.Errorf("jobs: %w", err)
	}
	if q.river, err = river.NewClient(riverpgxv5.New(store.Pool), q.riverConfig()); err != nil {
		return nil, fmt.Errorf("jobs: %w", err)
	}
	return q, nil
}

func (q *Queue) works() bool { return q.cfg.Interactive > 0 || q.cfg.Batch > 0 }

func (q *Queue) riverConfig() *river.Config {
	cfg := &river.Config{
		ID:     q.id,
		Logger: q.log,
		// The client tells of new jobs at most once a cooldown, so that of two
		// in quick succession the second may be found by polling only.
		FetchCooldown:     time.Millisecond,
		FetchPollInterval: 100 * time.Millisecond,
		JobTimeout:        q.cfg.longest(),
		// The lease brings jobs of dead workers back; this is the second net.
		RescueStuckJobsAfter: q.cfg.longest() + time.Hour,
		SoftStopTimeout:      q.cfg.SoftStop,
	}
	if !q.works() {
		return cfg
	}
	cfg.Workers = river.NewWorkers()
	for _, k := range q.kinds {
		k.register(cfg.Workers, q)
	}
	cfg.Queues = map[string]river.QueueConfig{}
	for name, n := range map[db.Queue]int{db.Interactive: q.cfg.Interactive, db.Batch: q.cfg.Batch} {
		if n > 0 {
			cfg.Queues[string(name)] = river.QueueConfig{MaxWorkers: n}
		}
	}
	return cfg
}

// Start begins to listen for changes of plans and, where the queue has
// workers, to work. ctx bounds the starting only; Stop ends the work.
func (q *Queue) Start(ctx context.Context) error {
	running, stop := context.WithCancel(context.WithoutCancel(ctx))
	q.stop = stop
	q.running.Go(func() { q.listen(running) })
	if !q.works() {
		return nil
	}
	if err := q.store.Beat(ctx, q.id); err != nil { // before any job bears the name
		stop()
		return fmt.Errorf("jobs: %w", err)
	}
	q.running.Go(func() { q.beat(running) })
	q.running.Go(func() { q.sweep(running) })
	if err := q.river.Start(context.WithoutCancel(ctx)); err != nil {
		stop()
		q.running.Wait()
		return fmt.Errorf("jobs: %w", err)
	}
	return nil
}

// Stop lets running stages end, for at most SoftStop, puts those that did not
// back into the queue, and ends the queue's goroutines. ctx bounds it all.
func (q *Queue) Stop(ctx context.Context) error {
	if q.stop == nil {
		return nil // never started
	}
	var err error
	if q.works() {
		err = q.river.Stop(ctx)
	}
	q.stop()
	q.running.Wait()
	if q.works() && err == nil {
		err = q.store.Leave(ctx, q.id)
	}
	if err != nil {
		return errors.Join(errors.New("jobs: stop"), err)
	}
	return nil
}
