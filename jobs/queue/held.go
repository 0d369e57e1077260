package queue

import (
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/rivertype"
)

// held knows the jobs of the queue that this process has. A job that is noted as this
// process's and is not among them was handed out by an answer that never came, as the
// database went away at that moment: nobody runs it, and no worker of it is dead.
type held struct {
	river.MiddlewareDefaults
	mu    sync.Mutex
	runs  map[int64]int       // how often each is being run
	ended map[int64]time.Time // when it was; the library notes ends a little later
}

// Work runs a job and knows of it meanwhile.
func (h *held) Work(ctx context.Context, job *rivertype.JobRow, run func(context.Context) error) error {
	h.begin(job.ID)
	defer h.end(job.ID)
	return run(ctx)
}

func (h *held) begin(job int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.runs[job]++
}

func (h *held) end(job int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.runs[job]--; h.runs[job] == 0 {
		delete(h.runs, job)
		h.ended[job] = time.Now()
	}
}

// since lists the jobs that run, and those that have ended since a time.
func (h *held) since(when time.Time) []int64 {
	h.mu.Lock()
	defer h.mu.Unlock()
	maps.DeleteFunc(h.ended, func(_ int64, end time.Time) bool { return end.Before(when) })
	return slices.AppendSeq(slices.Collect(maps.Keys(h.runs)), maps.Keys(h.ended))
}
