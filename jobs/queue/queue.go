// Package queue runs plans through the list of jobs with a queue in Postgres.
//
// The unit of work is a result, not a plan. A result lies under a key made of
// all that goes into it (jobs.Key), so equal requests, also of different
// clients, come to the same key. A plan that needs a result which is there goes
// on at once; one that needs a result which is being computed waits for it
// beside the others; only the first to ask puts a job into the queue. When the
// last plan stops waiting the job is cancelled.
//
//	Submit ─▶ move.on ─▶ results there? ── all ─▶ ready
//	             ▲            │ one is missing
//	             │            ▼
//	             │          work ─▶ refill: whose turn it is ─▶ job
//	             │                                               │
//	          finish ◀───────────── run on ◀──────────────── claim
//
// A job claims the missing keys that follow the first as well: its span. It
// computes them one after the other in memory, as long as they are cheap, and
// one transaction takes all in: it stores them, ends the work, moves every plan
// that waited, and puts their next jobs into the queue. What is expected to take
// long has a job of its own. A span that takes a while is taken in piece by
// piece, so that a crash repeats little. The job and attempt in the rows of the
// work own them: a result of an attempt that was taken for dead is turned away.
//
// Locks are taken in the order drawing, keys waited for, plans by ID, results and
// further keys, the right to admit; where two transactions cross all the same,
// Postgres ends one and db.InTx runs it again.
package queue

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"runtime"
	"slices"
	"sync"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/queue/webhook"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/riverqueue/river"
)

// Config says how a Queue works. The zero value of a field is its default.
type Config struct {
	// Interactive and Batch are how many jobs of each queue run at a time.
	// With both 0 the process only submits, as an API without workers does.
	Interactive, Batch int
	// Heavy is how many runs that are expected to take long this process works on at
	// a time, of both queues together: by default one less than it has processors,
	// so that small plans find one free.
	Heavy int
	// Timeout bounds the run of a job whose row has no bound of its own, 60 s.
	Timeout time.Duration
	// Grace is what a run has to end in once its context has, 5 s. After that
	// it is left to itself and its result is dropped.
	Grace time.Duration
	// Faults is how often a run may end in an error or a panic before the plans
	// that wait for it fail, 3.
	Faults int
	// Losses is how often the worker of a run may die of it, 5.
	Losses int
	// RetryAfter is the pause after the first error, doubled with each
	// further one up to 30 s; 1 s.
	RetryAfter time.Duration
	// Memory is how many bytes all runs may need together, by an estimate from
	// the files and results that they start from, 1 GiB. What needs more than
	// is free waits; what needs more than all of it runs alone.
	Memory int64
	// Lease is how long a worker may be silent before its jobs go to others,
	// 5 s.
	Lease time.Duration
	// LapseEvery is how often it is looked for stock that was held up to now, 10 s.
	LapseEvery time.Duration
	// Keep is how long plans that are settled, and drawings without a plan, are
	// kept once nothing changes of them; 0: for ever.
	Keep time.Duration
	// Webhooks says how receivers are told of events. Tries is after how many
	// attempts one is given up, 10; TryAgain are the pauses between them, of which
	// the last goes on: those of Standard Webhooks, 5 s to 24 h.
	Webhooks webhook.Config
	Tries    int
	TryAgain []time.Duration
	// SoftStop is how long Stop lets runs go on before it ends them, 10 s.
	SoftStop time.Duration

	// Sharing lays the members of class sets on common loads; nil: they stay apart.
	Sharing *Sharing

	Log      *slog.Logger          // nil: nothing is logged
	Registry prometheus.Registerer // nil: nothing is measured
}

// DefaultMemory is the usual Config.Memory, in bytes.
const DefaultMemory = 1 << 30

// filled returns c with its defaults.
func (c Config) filled() Config {
	c.Heavy = cmp.Or(max(c.Heavy, 0), max(runtime.GOMAXPROCS(0)-1, 1))
	c.Timeout = cmp.Or(max(c.Timeout, 0), time.Minute)
	c.Grace = cmp.Or(max(c.Grace, 0), 5*time.Second)
	c.Faults = cmp.Or(max(c.Faults, 0), 3)
	c.Losses = cmp.Or(max(c.Losses, 0), 5)
	c.RetryAfter = cmp.Or(max(c.RetryAfter, 0), time.Second)
	c.Memory = cmp.Or(max(c.Memory, 0), DefaultMemory)
	c.Lease = cmp.Or(max(c.Lease, 0), 5*time.Second)
	c.LapseEvery = cmp.Or(max(c.LapseEvery, 0), 10*time.Second)
	c.Tries = cmp.Or(max(c.Tries, 0), 10)
	if len(c.TryAgain) == 0 {
		const m, h = time.Minute, time.Hour
		c.TryAgain = []time.Duration{5 * time.Second, 5 * m, 30 * m, 2 * h, 5 * h, 10 * h, 14 * h, 20 * h, 24 * h}
	}
	c.SoftStop = cmp.Or(max(c.SoftStop, 0), 10*time.Second)
	c.Log = cmp.Or(c.Log, slog.New(slog.DiscardHandler))
	if c.Registry == nil { // an interface, whose values need not be comparable
		c.Registry = prometheus.NewRegistry()
	}
	return c
}

// Queue takes plans in and works on them. Its methods may be called from
// several goroutines.
type Queue struct {
	store   *db.DB
	rows    []*jobs.Row // of a plan
	all     []*jobs.Row // and those that share loads
	list    int         // revision of the list of jobs
	cfg     Config
	log     *slog.Logger
	metrics *metrics
	river   *river.Client[pgx.Tx]
	id      string
	hub     hub
	spans   spans
	room    room
	desks   *desks
	manners *manners
	due     chan struct{} // what waits may be admitted now
	held    *held
	*erasing
	*classes
	*telling
	*admitting
	*lending

	pulse   pulse
	stop    context.CancelFunc
	running sync.WaitGroup
}

// New returns a queue that runs the jobs of the list, in its order, on the
// store. The store must be migrated. Nothing runs before Start.
func New(store *db.DB, rows []*jobs.Row, cfg Config) (*Queue, error) {
	cfg = cfg.filled()
	all := rows
	if cfg.Sharing != nil {
		all = slices.Concat(rows, cfg.Sharing.Rows)
	}
	q := &Queue{store: store, rows: rows, all: all, list: jobs.Revision(all), cfg: cfg, log: cfg.Log, id: uuid.NewString(), room: newRoom(cfg.Memory),
		desks: newDesks(cfg.Heavy), manners: &manners{}, due: make(chan struct{}, 1), held: &held{runs: map[int64]int{}, ended: map[int64]time.Time{}}}
	q.erasing, q.classes, q.admitting, q.lending = &erasing{q}, &classes{q}, &admitting{q}, &lending{q}
	var err error
	if q.metrics, err = newMetrics(cfg.Registry); err != nil {
		return nil, fmt.Errorf("queue: %w", err)
	}
	if err := cfg.Registry.Register(newDepths(store, cfg.Log)); err != nil {
		return nil, fmt.Errorf("queue: %w", err)
	}
	if q.river, err = newRiver(q); err != nil {
		return nil, fmt.Errorf("queue: %w", err)
	}
	q.telling = &telling{q.river, store}
	return q, nil
}

func (q *Queue) works() bool { return q.cfg.Interactive > 0 || q.cfg.Batch > 0 }

// place returns where a job stands among all, -1 where it does not.
func (q *Queue) place(name string) int {
	return slices.IndexFunc(q.all, func(r *jobs.Row) bool { return r.Name == name })
}

// Start begins to listen for changes of plans and, where the queue has
// workers, to work. ctx bounds the starting only; Stop ends the work.
func (q *Queue) Start(ctx context.Context) error {
	if err := q.store.CheckRiver(ctx); err != nil {
		return fmt.Errorf("queue: %w", err)
	}
	running, stop := context.WithCancel(context.WithoutCancel(ctx))
	q.stop = stop
	q.running.Go(func() { q.listen(running) })
	q.running.Go(func() { q.seeWaiting(running) })
	if !q.works() {
		return nil
	}
	if err := q.store.Beat(ctx, q.worker()); err != nil { // before any job bears the name
		stop()
		return fmt.Errorf("queue: %w", err)
	}
	q.running.Go(func() { keeper{q}.beat(running) })
	q.running.Go(func() { keeper{q}.sweep(running) })
	q.running.Go(func() { keeper{q}.fill(running) })
	q.running.Go(func() { keeper{q}.lapse(running) })
	q.running.Go(func() { keeper{q}.retain(running) })
	if err := q.river.Start(context.WithoutCancel(ctx)); err != nil {
		stop()
		q.running.Wait()
		return fmt.Errorf("queue: %w", err)
	}
	return nil
}

// Stop lets runs end, for at most SoftStop, puts those that did not back into
// the queue, and ends the queue's goroutines. ctx bounds it all.
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
		return errors.Join(errors.New("queue: stop"), err)
	}
	return nil
}
