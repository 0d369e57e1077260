package queue_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// fakes are stages that do nothing but say what they were given. The drawing's
// bytes tell them what to do:
//
//	ask     the size stage asks, until the request holds a reply
//	block   the artwork stage finds a fault that blocks
//	error, panic, hang, stuck   the weeding stage does so
type fakes struct {
	pause time.Duration // what each run takes
	// during, where set, is called in each run.
	during func(ctx context.Context, stage string)
	// log, where set, gets a line for each run: stage, hash of the input.
	log io.Writer

	mu   sync.Mutex
	runs map[string]int
}

// said is the result of a fake stage.
type said struct {
	Stage     string            `json:"stage"`
	Read      any               `json:"read,omitempty"`
	From      string            `json:"from"` // a hash of the file or the needed results
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
}

func (s said) Outcome() ([]finding.Finding, []ask.Question) { return s.Findings, s.Questions }

var errFake = errors.New("secret inner text")

func (f *fakes) stages() []plan.Stage {
	nothing := func(*plan.Request) any { return nil }
	return []plan.Stage{
		f.stage("read", nothing),
		f.stage("size", func(r *plan.Request) any { return r.Replies["size"] }, "read"),
		f.stage("artwork", nothing, "read", "size"),
		f.stage("weeding", func(r *plan.Request) any { return r.Turned }, "artwork"),
		f.stage("layout", func(r *plan.Request) any { return r.Copies }, "weeding"),
		f.stage("passes", nothing, "weeding", "layout"),
		f.stage("estimate", func(r *plan.Request) any { return r.Prices.Minimum }, "layout", "passes"),
	}
}

func (f *fakes) stage(name string, reads func(*plan.Request) any, needs ...string) plan.Stage {
	return plan.Stage{Name: name, Revision: 1, Needs: needs, Reads: reads, Run: func(ctx context.Context, in plan.Input) (plan.Result, error) {
		f.count(name)
		if f.log != nil {
			fmt.Fprintln(f.log, name, hashOf(in))
		}
		if f.during != nil {
			f.during(ctx, name)
		}
		select {
		case <-time.After(f.pause):
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		s := said{Stage: name, Read: reads(in.Request), From: hashOf(in)}
		return f.act(ctx, in, s)
	}}
}

// act does what the drawing says. Only the first stage sees the drawing; it
// hands the word on as what it read.
func (f *fakes) act(ctx context.Context, in plan.Input, s said) (plan.Result, error) {
	word := string(in.File)
	for _, need := range slices.Sorted(maps.Keys(in.Results)) {
		var before said
		if err := in.From(need, &before); err != nil {
			return nil, err
		}
		if w, ok := before.Read.(map[string]any); ok && w["word"] != nil {
			word = w["word"].(string)
		}
	}
	verb, _, _ := bytes.Cut([]byte(word), []byte(" "))
	s.Read = map[string]any{"word": word, "request": s.Read}
	switch s.Stage + ":" + string(verb) {
	case "size:ask":
		if _, ok := in.Request.Replies["size"]; !ok {
			s.Questions = []ask.Question{{ID: "size", Text: "How wide is it?", Answers: []ask.Answer{
				{ID: "a4", Label: "A4"}, {ID: "a3", Label: "A3"}, {ID: "length", Label: "I know", NeedsMM: true}}}}
		}
	case "artwork:block":
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

// sofar returns the runs of a stage and forgets none.
func (f *fakes) sofar(stage string) int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.runs[stage]
}

// ran returns the runs of each stage since the last call.
func (f *fakes) ran() map[string]int {
	f.mu.Lock()
	defer f.mu.Unlock()
	runs := f.runs
	f.runs = map[string]int{}
	return runs
}

func hashOf(in plan.Input) string {
	h := sha256.New()
	h.Write(in.File)
	for _, need := range slices.Sorted(maps.Keys(in.Results)) {
		h.Write(in.Results[need])
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// each is one run of every stage.
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

func startOn(t *testing.T, store *db.DB, stages []plan.Stage, cfg queue.Config) *queue.Queue {
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
func submit(t *testing.T, q *queue.Queue, client, file string, r plan.Request) db.Plan {
	t.Helper()
	p, err := q.Submit(t.Context(), queue.SubmitParams{Client: client, File: []byte(file), Name: "a.svg", Request: r, Queue: db.Interactive})
	if err != nil {
		t.Fatal(err)
	}
	return settled(t, q, p)
}

func settled(t *testing.T, q *queue.Queue, p db.Plan) db.Plan {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	after, err := q.Wait(ctx, p.Client, p.ID)
	if err != nil {
		t.Fatalf("plan %s is %s: %v", p.ID, after.Status, err)
	}
	return after
}

// matchesLocal checks that a plan has the results that the same request has
// without a queue, byte for byte.
func matchesLocal(t *testing.T, store *db.DB, p db.Plan, stages []plan.Stage, file string) {
	t.Helper()
	want, status, err := queue.Local(t.Context(), stages, []byte(file), p.Request)
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
		if got[i].Stage != w.Stage || got[i].Key != w.Key || !bytes.Equal(got[i].Body, w.Body) {
			t.Errorf("plan %s, stage %s:\n got %s %s\nwant %s %s", p.ID, w.Stage, got[i].Key, got[i].Body, w.Key, w.Body)
		}
	}
}
