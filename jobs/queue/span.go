package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"sync"
	"time"

	"knifedesk/db"
	"knifedesk/geometry/budget"
	"knifedesk/jobs"
	"knifedesk/jobs/queue/trace"
	"knifedesk/jobs/view"

	"github.com/riverqueue/river"
)

const (
	// long is the estimate in seconds from which on a run gets a job of its own.
	long = 0.2
	// often is after how long a span hands in what it has computed, so that a
	// crash repeats little and whoever waits sees how it goes on.
	often = 150 * time.Millisecond
	// leave is for how long a job of a newer program is left alone; half of the
	// workers may be older ones, and each of them that takes it delays it by so much.
	leave = 500 * time.Millisecond
)

// span is the work of one job while it runs.
type span struct {
	attempt
	queue crew
	log   *slog.Logger

	mu     sync.Mutex
	work   []db.Work // what is wanted, in order; it may be trimmed
	at     int       // which runs
	cancel context.CancelCauseFunc

	// Of the goroutine that runs the span alone:
	results map[string]jobs.Result // by key
	done    []db.Result            // computed and not handed in
	counts  view.Counts
	handed  time.Time     // when results were last handed in
	told    bool          // that it is being worked on
	client  string        // whom it is charged to
	spent   time.Duration // on runs, and not charged yet

	still *polite // how long it has stood still; nil: it gives way to nobody
}

// Why a run is stopped that could go on.
var (
	errTrimmed = errors.New("queue: nobody waits for it any more")
	errLost    = errors.New("queue: the work is another's by now")
)

// crew are the workers of a queue.
type crew struct{ *Queue }

// work claims the span of a job, computes it and takes the results in. An error
// is an outage or a fault of a run, and the library tries again.
func (q crew) work(ctx context.Context, a attempt) error {
	log := q.log.With("job", a.job, "attempt", a.number, "plan", a.Plan).With(trace.Parent(a.Trace).Attrs()...)
	if a.List > q.list {
		log.Warn("job left for a newer worker", "list", a.List)
		return river.JobSnooze(leave)
	}
	work, err := q.claim(ctx, a, log)
	if err != nil {
		return err
	}
	if len(work) == 0 {
		return q.standBack(ctx, a)
	}
	ctx, rise, err := q.desks.sit(ctx, work[0].Heavy)
	if err != nil {
		return err
	}
	defer rise()
	leave, err := q.enter(ctx, work[0])
	if err != nil {
		return err
	}
	defer leave()
	ctx, still, done := q.manners.behave(ctx, work[0])
	defer done()
	s := &span{attempt: a, queue: q, log: log.With("client", work[0].Client), work: work, client: work[0].Client,
		still: still, results: map[string]jobs.Result{}, handed: time.Now()}
	q.spans.add(s)
	defer q.spans.remove(s)
	return s.run(ctx)
}

// run computes the span as far as it is wanted, cheap, and not stopped by what
// it finds.
func (s *span) run(ctx context.Context) error {
	var course jobs.Course
	for {
		w, row, ok := s.next(&course)
		if !ok {
			return s.finish(ctx)
		}
		began, stood := time.Now(), s.still.stood()
		result, fault := s.compute(ctx, w, row)
		took := time.Since(began) - (s.still.stood() - stood)
		s.spent += took
		switch {
		case fault == nil:
		case errors.Is(fault.err, errTrimmed):
			s.queue.metrics.ran(w.Stage, "stopped", took)
			continue // and find out what is still wanted
		case errors.Is(fault.err, errLost):
			s.queue.metrics.ran(w.Stage, "stopped", took)
			return s.queue.standBack(ctx, s.attempt)
		default:
			return s.ended(ctx, w, took, fault)
		}
		s.queue.metrics.ran(w.Stage, "done", took)
		s.log.Info("stage done", "stage", w.Stage, "key", w.Key, "seconds", took.Seconds())
		outcome, err := s.keep(w, row, result, took)
		if err != nil {
			return err
		}
		s.queue.metrics.said(w.Stage, outcome)
		if course.After(outcome) != "" {
			return s.finish(ctx)
		}
		// What may have killed its worker is found out where all before it is in.
		if (w.Losses > 0 || time.Since(s.handed) > often) && s.more() {
			if mine, err := s.handIn(ctx); err != nil || !mine {
				return errors.Join(err, s.queue.standBack(ctx, s.attempt))
			}
		}
	}
}

// next returns the work to do, and whether there is any that goes into this job.
func (s *span) next(course *jobs.Course) (db.Work, *jobs.Row, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.at >= len(s.work) {
		return db.Work{}, nil, false
	}
	w := s.work[s.at]
	row := s.queue.rowOf(w)
	first := s.at == 0
	if !first && (course.Before(row) != "" || row.Estimate(w.Reads, s.counts) > long) {
		return w, row, false
	}
	return w, row, true
}

// current is the key that is computed now; empty: none.
func (s *span) current() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.at >= len(s.work) {
		return ""
	}
	return s.work[s.at].Key
}

// more reports whether something is left of the span.
func (s *span) more() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.at < len(s.work)
}

// computed is what a run came to.
type computed struct {
	result jobs.Result
	body   []byte
	err    error
}

// compute loads what a run needs and runs it.
func (s *span) compute(ctx context.Context, w db.Work, row *jobs.Row) (computed, *runError) {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	s.mu.Lock()
	s.cancel = cancel
	trimmed := s.at >= len(s.work)
	s.mu.Unlock()
	if trimmed {
		return computed{}, &runError{err: errTrimmed}
	}
	file, needs, err := s.load(ctx, w, row)
	if err != nil {
		return computed{}, &runError{err: err, outage: true}
	}
	n := jobs.Node{Row: row, Reads: w.Reads, Key: jobs.Key(w.Key)}
	if w.File != nil {
		sum := jobs.Sum(w.File)
		n.File = &sum
		s.counts = s.counts.With(view.Counts{Bytes: len(file)})
	}
	far := &progress{}
	return s.queue.compute(budget.Telling(ctx, far.tell), &n, file, needs, func() {
		switch mine, err := s.handIn(ctx); {
		case err != nil:
			s.log.Warn("results not handed in yet", "err", err)
		case !mine:
			cancel(errLost)
		default:
			s.onlookers(ctx, far)
		}
	})
}

// load returns the file and the results that a run needs: those of this span
// from memory, others from the store.
func (s *span) load(ctx context.Context, w db.Work, row *jobs.Row) (file []byte, needs []jobs.Result, err error) {
	if w.File != nil {
		if file, err = s.queue.store.File(ctx, w.File); err != nil {
			return nil, nil, err
		}
	}
	var lacking []string
	for _, key := range w.Needs {
		if s.results[key] == nil {
			lacking = append(lacking, key)
		}
	}
	if len(lacking) > 0 {
		if err := s.fetch(ctx, lacking); err != nil {
			return nil, nil, err
		}
	}
	for _, key := range w.Needs {
		if s.results[key] == nil {
			return nil, nil, fmt.Errorf("queue: %s lacks the result %s, which it needs", row.Name, key)
		}
		needs = append(needs, s.results[key])
	}
	return file, needs, nil
}

func (s *span) fetch(ctx context.Context, keys []string) error {
	stored, err := s.queue.store.Results(ctx, keys...)
	if err != nil {
		return err
	}
	for _, r := range stored {
		at := s.queue.place(r.Stage)
		if at < 0 {
			return fmt.Errorf("queue: the result %s is of %q, which is not on the list", r.Key, r.Stage)
		}
		row := s.queue.all[at]
		if s.results[r.Key], err = decode(ctx, row, r); err != nil {
			return err
		}
		s.counts = s.counts.With(row.Digest(s.results[r.Key]).Counts)
	}
	return nil
}

// keep puts a result beside those that are to be handed in.
func (s *span) keep(w db.Work, row *jobs.Row, c computed, took time.Duration) (jobs.Outcome, error) {
	outcome := jobs.OutcomeOf(c.result)
	digest := row.Digest(c.result)
	s.counts = s.counts.With(digest.Counts)
	said, err := json.Marshal(outcome)
	if err != nil {
		return outcome, fmt.Errorf("queue: the outcome of %s: %w", w.Key, err)
	}
	short, err := json.Marshal(digest)
	if err != nil {
		return outcome, fmt.Errorf("queue: the digest of %s: %w", w.Key, err)
	}
	codec, body, err := pack(c.body)
	if err != nil {
		return outcome, err
	}
	s.results[w.Key] = c.result
	s.done = append(s.done, db.Result{
		Head:  db.Head{Key: w.Key, Stage: w.Stage, Outcome: said, Digest: short, Seconds: took.Seconds()},
		Codec: codec, Body: body,
	})
	s.mu.Lock()
	defer s.mu.Unlock()
	s.at++
	return outcome, nil
}

// spans are those that run in this process, by their job.
type spans struct {
	mu    sync.Mutex
	byJob map[int64]*span
}

func (all *spans) add(s *span) {
	all.mu.Lock()
	defer all.mu.Unlock()
	if all.byJob == nil {
		all.byJob = map[int64]*span{}
	}
	all.byJob[s.job] = s
}

func (all *spans) remove(s *span) {
	all.mu.Lock()
	defer all.mu.Unlock()
	if all.byJob[s.job] == s {
		delete(all.byJob, s.job)
	}
}

// trimmed finds out what is still wanted of a job, if it runs here.
func (q crew) trimmed(ctx context.Context, job int64) {
	q.spans.mu.Lock()
	s := q.spans.byJob[job]
	q.spans.mu.Unlock()
	if s == nil {
		return
	}
	wanted, err := q.store.SpanKeys(ctx, job)
	if err != nil {
		s.log.Warn("could not look what is still wanted", "err", err)
		return
	}
	s.trim(wanted)
}

// trim takes off the end of the span what is not wanted, and stops the run of it.
func (s *span) trim(wanted []db.SpanKey) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i := s.at; i < len(s.work); i++ {
		if !slices.ContainsFunc(wanted, func(w db.SpanKey) bool { return w.Key == s.work[i].Key }) {
			s.work = s.work[:i]
			break
		}
	}
	if s.at >= len(s.work) && s.cancel != nil {
		s.cancel(errTrimmed)
	}
}
