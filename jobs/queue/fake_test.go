package queue_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// fakes are jobs that do nothing but say what they were given. The drawing's
// bytes tell them what to do:
//
//	ask     the size job asks, until the request holds a reply
//	block   the artwork job finds a fault that blocks
//	laid    what members share holds one, and the strokes that follow say how many loads
//	error, panic, hang, stuck   the weeding job does so
type fakes struct {
	pause time.Duration // what each run takes
	// cost, where set, is the estimate of the weeding job in seconds.
	cost float64
	// timeout, where set, bounds the weeding job.
	timeout time.Duration
	// during, where set, is called in each run.
	during func(ctx context.Context, stage string)
	// log, where set, gets a line for each run: job, hash of the input.
	log io.Writer

	mu   sync.Mutex
	runs map[string]int
}

// said is the result of a fake job.
type said struct {
	Stage     string            `json:"stage"`
	Read      any               `json:"read,omitempty"`
	Word      string            `json:"word"` // what the drawing says
	From      string            `json:"from"` // a hash of the file or the needed results
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
}

func (s said) Outcome() ([]finding.Finding, []ask.Question) { return s.Findings, s.Questions }

var errFake = errors.New("secret inner text")

func (f *fakes) stages() []*jobs.Row {
	nothing := func(*plan.Request) any { return nil }
	row := func(name string) jobs.Row { return jobs.Row{Name: name, Revision: 1} }
	one := func(name string) func(context.Context, any, *said) (*said, error) {
		return func(ctx context.Context, q any, a *said) (*said, error) { return f.run(ctx, name, q, a) }
	}
	two := func(name string) func(context.Context, any, *said, *said) (*said, error) {
		return func(ctx context.Context, q any, a, b *said) (*said, error) { return f.run(ctx, name, q, a, b) }
	}
	read := jobs.DefineFile(row("read"), nothing, func(ctx context.Context, q any, file []byte) (*said, error) {
		return f.run(ctx, "read", q, &said{Word: string(file)})
	})
	size := jobs.Define1(row("size"), read, func(r *plan.Request) any {
		if reply, ok := r.Replies["size/known"]; ok {
			return reply
		}
		return nil
	}, one("size"))
	artwork := jobs.Define2(row("artwork"), read, size, nothing, two("artwork"))
	slow := row("weeding")
	slow.Timeout = f.timeout
	slow.Cost = func(view.Counts) float64 { return f.cost }
	weeding := jobs.Define1(slow, artwork, func(r *plan.Request) any { return r.Turned }, one("weeding"))
	layout := jobs.Define1(row("layout"), weeding, func(r *plan.Request) any { return r.Copies }, one("layout"))
	passes := jobs.Define2(row("passes"), weeding, layout, nothing, two("passes"))
	estimate := jobs.Define2(row("estimate"), layout, passes, func(r *plan.Request) any { return r.Prices.Minimum }, two("estimate"))
	return []*jobs.Row{read.Row(), size.Row(), artwork.Row(), weeding.Row(), layout.Row(), passes.Row(), estimate.Row()}
}

func (f *fakes) run(ctx context.Context, name string, q any, needs ...*said) (*said, error) {
	f.count(name)
	if f.log != nil {
		fmt.Fprintln(f.log, name, hashOf(needs))
	}
	if f.during != nil {
		f.during(ctx, name)
	}
	select {
	case <-time.After(f.pause):
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	return f.act(ctx, q, &said{Stage: name, Read: q, Word: needs[0].Word, From: hashOf(needs)})
}

// act does what the drawing says.
func (f *fakes) act(ctx context.Context, q any, s *said) (*said, error) {
	verb, _, _ := strings.Cut(s.Word, " ")
	switch s.Stage + ":" + verb {
	case "size:ask":
		if q == nil {
			s.Questions = []ask.Question{{ID: "size/known", Text: "How wide is it?", Answers: []ask.Answer{
				{ID: "a4", Label: "A4"}, {ID: "a3", Label: "A3"}, {ID: "length", Label: "I know", NeedsMM: true}}}}
		}
	case "artwork:block", "share:laid":
		s.Findings = []finding.Finding{{Code: "fake", Severity: finding.Block, Count: 1}}
	case "weeding:error":
		return nil, errFake
	case "weeding:panic":
		panic(errFake)
	case "weeding:hang":
		<-ctx.Done()
		return nil, ctx.Err()
	case "weeding:stuck":
		time.Sleep(3 * time.Second)
	}
	return s, nil
}

func (f *fakes) count(stage string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.runs == nil {
		f.runs = map[string]int{}
	}
	f.runs[stage]++
}

// sofar returns the runs of a job and forgets none.
func (f *fakes) sofar(stage string) int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.runs[stage]
}

// ran returns the runs of each job since the last call.
func (f *fakes) ran() map[string]int {
	f.mu.Lock()
	defer f.mu.Unlock()
	runs := f.runs
	f.runs = map[string]int{}
	return runs
}

func hashOf(needs []*said) string {
	text, err := json.Marshal(needs)
	if err != nil {
		panic(err)
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// each is one run of every job.
func each() map[string]int {
	return map[string]int{"read": 1, "size": 1, "artwork": 1, "weeding": 1, "layout": 1, "passes": 1, "estimate": 1}
}

// quick is a configuration for tests: four workers, short times.
func quick() queue.Config {
	return queue.Config{
		Interactive: 2, Batch: 2, RetryAfter: time.Millisecond,
		Lease: time.Second, Grace: 200 * time.Millisecond, SoftStop: 200 * time.Millisecond,
	}
}

// start returns a running queue on a fresh database.
func start(t *testing.T, f *fakes, cfg queue.Config) (*queue.Queue, *db.DB) {
	t.Helper()
	store := db.From(dbtest.New(t))
	return startOn(t, store, f.stages(), cfg), store
}

func startOn(t *testing.T, store *db.DB, stages []*jobs.Row, cfg queue.Config) *queue.Queue {
	t.Helper()
	q, err := queue.New(store, stages, cfg)
	if err != nil {
		t.Fatal(err)
	}
	if err := q.Start(t.Context()); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
		defer cancel()
		if err := q.Stop(ctx); err != nil {
			t.Errorf("stop: %v", err)
		}
	})
	return q
}

func request(minimum int64) plan.Request {
	return plan.Request{Copies: 1, Prices: workshop.PriceList{Minimum: decimal.NewFromInt(minimum)}}
}

// submit submits a drawing for a client and waits until it is settled.
func submit(t *testing.T, q *queue.Queue, client, file string, r plan.Request) queue.Plan {
	t.Helper()
	p, err := q.Submit(t.Context(), queue.SubmitParams{Client: client, File: []byte(file), Name: "a.svg", Request: r, Queue: db.Interactive})
	if err != nil {
		t.Fatal(err)
	}
	return settled(t, q, p)
}

func settled(t *testing.T, q *queue.Queue, p queue.Plan) queue.Plan {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	now, err := q.Wait(ctx, p.Client, p.ID)
	if err != nil {
		t.Fatalf("plan %s is %s: %v", p.ID, now.Status, err)
	}
	p.Status, p.Failure = now.Status, now.Failure
	return p
}

// matchesLocal checks that a plan has the results that the same request has
// without a queue, byte for byte.
func matchesLocal(t *testing.T, store *db.DB, p queue.Plan, stages []*jobs.Row, file string) {
	t.Helper()
	request := stored(t, store, p)
	want, status, err := local.Run(t.Context(), stages, []byte(file), &request)
	if err != nil {
		t.Fatal(err)
	}
	got, err := store.PlanResults(t.Context(), p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if p.Status != status || len(got) != len(want) {
		t.Fatalf("plan %s is %s with %d results, want %s with %d", p.ID, p.Status, len(got), status, len(want))
	}
	for i, w := range want {
		body, err := queue.Unpack(got[i])
		if err != nil {
			t.Fatal(err)
		}
		if got[i].Stage != w.Row.Name || got[i].Key != string(w.Key) || !bytes.Equal(body, w.Body) {
			t.Errorf("plan %s, stage %s:\n got %s %s\nwant %s %s", p.ID, w.Row.Name, got[i].Key, body, w.Key, w.Body)
		}
	}
}

// stored is the request of a plan as it is in the store.
func stored(t *testing.T, store *db.DB, p queue.Plan) (r plan.Request) {
	t.Helper()
	now, err := store.Plan(t.Context(), p.Client, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(now.Request, &r); err != nil {
		t.Fatal(err)
	}
	return r
}
