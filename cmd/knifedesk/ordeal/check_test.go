package ordeal

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
	"github.com/klauspost/compress/zstd"
)

// receiver takes messages, and now and then says that it cannot, once of each.
type receiver struct {
	*httptest.Server
	mu       sync.Mutex
	payloads map[string]string // by webhook-id
	told     map[string]int    // how many events of a kind about a plan or a set
	times    int
	refused  map[string]bool // ids
	changed  []string        // ids that came with two payloads
}

func newReceiver(t *testing.T) *receiver {
	r := &receiver{payloads: map[string]string{}, told: map[string]int{}, refused: map[string]bool{}}
	r.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, req *http.Request) {
		body, err := io.ReadAll(req.Body)
		if err != nil {
			return // its sender died
		}
		e, err := readEvent(body)
		if err != nil {
			t.Errorf("%v in %s", err, body)
		}
		id := req.Header.Get("webhook-id")
		r.mu.Lock()
		defer r.mu.Unlock()
		r.times++
		if before, known := r.payloads[id]; known && before != string(body) {
			r.changed = append(r.changed, id)
		}
		if r.times%10 == 0 && !r.refused[id] {
			r.refused[id] = true
			w.WriteHeader(http.StatusServiceUnavailable)
			return
		}
		if _, known := r.payloads[id]; !known {
			r.told[e.Data.Plan+e.Data.Set+" "+e.Type]++
		}
		r.payloads[id] = string(body)
	}))
	t.Cleanup(r.Close)
	return r
}

// check holds what is left against what was promised.
type check struct {
	t     *testing.T
	s     *service
	store *db.DB
	told  *receiver
}

func (c check) everything(ctx context.Context, people []*person) {
	c.t.Helper()
	ends := map[string]int{}
	for _, p := range people {
		c.none(ctx, p)
		for _, made := range p.plans {
			ends[made.kind+" "+made.status]++
			ok := made.status == "ready" || made.kind == "cancelled" && made.status == "cancelled"
			if !ok {
				c.t.Errorf("%s, %s: %s", made.id, made.kind, made.status)
				continue
			}
			if made.status == "ready" {
				c.equal(ctx, p.owner, made)
			}
		}
	}
	c.t.Logf("plans: %v", ends)
	c.nothingLeft(ctx) // and so nothing that is still to be told
	c.webhooks(ctx, people)
	c.ledger(ctx, people)
}

// none checks that a client has the plans that it was promised and no other.
func (c check) none(ctx context.Context, p *person) {
	c.t.Helper()
	views, err := c.store.PlanViews(ctx, db.PlanFilter{Client: p.owner, Limit: 100_000})
	if err != nil || len(views) != len(p.plans) {
		c.t.Errorf("%s was promised %d plans and has %d, %v", p.owner, len(p.plans), len(views), err)
	}
}

// equal holds the results of a plan against those of an undisturbed run, byte for byte.
func (c check) equal(ctx context.Context, owner string, made *promise) {
	c.t.Helper()
	id := uuid.MustParse(made.id)
	stored, err := c.store.Plan(ctx, owner, id)
	if err != nil {
		c.t.Error(err)
		return
	}
	var asked plan.Request
	if err := json.Unmarshal(stored.Request, &asked); err != nil {
		c.t.Error(err)
		return
	}
	want, _, err := local.Run(ctx, jobs.NewList().Rows, made.drawing.file, &asked)
	if err != nil {
		c.t.Error(err)
		return
	}
	got, err := c.store.PlanResults(ctx, id)
	if err != nil || len(got) != len(want) {
		c.t.Errorf("%s has %d results, want %d, %v", made.id, len(got), len(want), err)
		return
	}
	for i := range want {
		if got[i].Key != string(want[i].Key) || !bytes.Equal(c.unpacked(got[i]), want[i].Body) {
			c.t.Errorf("%s: the %s is not that of an undisturbed run", made.id, got[i].Stage)
		}
	}
}

func (c check) unpacked(r db.Result) []byte {
	c.t.Helper()
	if r.Codec == db.Plain {
		return r.Body
	}
	in, err := zstd.NewReader(bytes.NewReader(r.Body))
	if err != nil {
		c.t.Fatal(err)
	}
	defer in.Close()
	body, err := io.ReadAll(in)
	if err != nil {
		c.t.Fatal(err)
	}
	return body
}

// webhooks checks that the receiver was told how each plan came to rest, and of
// everything that was noted, each under one id.
func (c check) webhooks(ctx context.Context, people []*person) {
	c.t.Helper()
	var waiting, noted int
	count := func() {
		const query = `select count(*) filter (where state <> 'delivered'), count(*) from deliveries`
		if err := c.store.Pool.QueryRow(ctx, query).Scan(&waiting, &noted); err != nil {
			c.t.Fatal(err)
		}
	}
	// What was refused and then met an outage comes after five minutes.
	for end := time.Now().Add(6 * time.Minute); ; time.Sleep(100 * time.Millisecond) {
		if count(); waiting == 0 || time.Now().After(end) {
			break
		}
	}
	c.told.mu.Lock()
	defer c.told.mu.Unlock()
	c.t.Logf("%d events noted, told %d times", noted, c.told.times)
	if waiting > 0 || len(c.told.changed) > 0 || len(c.told.payloads) != noted {
		c.t.Errorf("%d of %d events are not delivered, %d ids came; with two texts: %v", waiting, noted, len(c.told.payloads), c.told.changed)
	}
	for _, p := range people {
		for _, made := range p.plans {
			c.once(made.id, "plan."+made.status)
			switch made.kind {
			case "accepted":
				c.once(made.id, "acceptance.made")
			case "superseding":
				c.once(made.id, "plan.durations_changed")
			}
		}
		for _, set := range p.sets {
			c.once(set, "class_set.complete")
			c.once(set, "class_set.closed")
			if c.told.told[set+" class_set.laid"] == 0 {
				c.t.Errorf("nobody was told of the loads of %s", set)
			}
		}
	}
}

// once checks that one event of a kind was told about a plan or a set.
func (c check) once(about, kind string) {
	c.t.Helper()
	if n := c.told.told[about+" "+kind]; n != 1 {
		c.t.Errorf("%s of %s was told %d times", kind, about, n)
	}
}

// ledger checks that the stores balance and hold one sheet for each plan accepted.
func (c check) ledger(ctx context.Context, people []*person) {
	c.t.Helper()
	if wrong, err := c.store.Unbalanced(ctx); err != nil || len(wrong) > 0 {
		c.t.Errorf("the ledger does not balance: %v, %v", wrong, err)
	}
	accepted := 0
	for _, p := range people {
		for _, made := range p.plans {
			if made.kind == "accepted" {
				accepted++
			}
		}
	}
	var held, reserved int
	const query = `select (select count(*) from acceptances where state = 'held'), (select coalesce(sum(reserved), 0) from lots)`
	if err := c.store.Pool.QueryRow(ctx, query).Scan(&held, &reserved); err != nil || held != accepted || reserved != accepted {
		c.t.Errorf("%d plans accepted, %d acceptances, %d sheets reserved, %v", accepted, held, reserved, err)
	}
}

func (c check) nothingLeft(ctx context.Context) {
	c.t.Helper()
	const query = `select (select count(*) from work) + (select count(*) from waiters) + (select count(*) from class_waiters) + (select count(*) from class_looks) +
		(select count(*) from river_job where finalized_at is null and kind = 'compute_span')`
	var n int
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(100 * time.Millisecond) {
		if err := c.store.Pool.QueryRow(ctx, query).Scan(&n); err != nil {
			c.t.Fatal(err)
		}
		if n == 0 || time.Now().After(end) {
			break
		}
	}
	if n > 0 {
		c.t.Errorf("%d rows of work, waiters and jobs are left", n)
	}
}
