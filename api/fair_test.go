package api_test

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"knifedesk/api"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// openIdle starts a service whose plans stay in the queue, as nobody works on it.
// It takes keys, and makes one for each of two clients.
func openIdle(t *testing.T, cfg api.Config) (g guarded, print, paint string) {
	t.Helper()
	cfg.PerMinute = -1
	g = guarded{startOn(t, cfg, queue.Config{})}
	g.seed(t, workshop.Example())
	return g, g.key(t, "print", "submit", "read"), g.key(t, "paint", "submit", "read")
}

// asked asks for a plan of a small drawing.
func (g guarded) asked(t *testing.T, bearer string, headers ...string) answer {
	t.Helper()
	body, kind := form(t, "ring.svg", dense(1), "stock", "film-removable-610")
	return g.call(t, http.MethodPost, "/v1/plans", body, append(headers, "Authorization", bearer, "Content-Type", kind)...)
}

func (g guarded) queuedPlan(t *testing.T, bearer string) (p api.Plan) {
	t.Helper()
	a := g.asked(t, bearer)
	a.wants(t, "a plan", http.StatusAccepted, "")
	a.json(t, &p)
	return p
}

// gauge reads a number of the metrics, -1 where there is none.
func (g guarded) gauge(t *testing.T, bearer, name string) float64 {
	t.Helper()
	for _, line := range strings.Split(string(g.as(t, bearer, http.MethodGet, "/metrics", "").body), "\n") {
		if rest, ok := strings.CutPrefix(line, name+" "); ok {
			var n float64
			if _, err := fmt.Sscan(rest, &n); err != nil {
				t.Fatal(err)
			}
			return n
		}
	}
	return -1
}

func (g guarded) staff(t *testing.T) string { return g.key(t, "workshop", "manage") }

// until waits for a gauge to have a value.
func (g guarded) until(t *testing.T, name string, want float64) {
	t.Helper()
	bearer := g.staff(t)
	for end := time.Now().Add(5 * time.Second); g.gauge(t, bearer, name) != want; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%s is %v, not %v", name, g.gauge(t, bearer, name), want)
		}
	}
}

// crowded holds a refusal against the specification.
func (g guarded) crowded(t *testing.T, a answer, code, whose string) {
	t.Helper()
	p := g.refuses(t, a, http.StatusTooManyRequests, code)
	if a.header.Get("Retry-After") == "" || !strings.HasPrefix(p.Detail, whose) {
		t.Errorf("%s: come again in %q; %s", code, a.header.Get("Retry-After"), p.Detail)
	}
}

// begin sends a request that is held open. What it returns ends it.
func (g guarded) begin(t *testing.T, bearer, path string, headers ...string) (end func()) {
	t.Helper()
	ctx, end := context.WithCancel(t.Context())
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, g.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Authorization", bearer)
	for i := 0; i < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
	}
	go func() {
		if resp, err := g.Client().Do(req); err == nil {
			<-ctx.Done()
			resp.Body.Close()
		}
	}()
	return end
}

// heldBounds holds what is held open against a bound of 2 of one client and 3 of all.
func heldBounds(t *testing.T, gauge, code, part string, headers ...string) {
	g, print, paint := openIdle(t, api.Config{Waiting: api.Bound{Client: 2, All: 3}, Streams: api.Bound{Client: 2, All: 3}})
	g.Client().Timeout = 30 * time.Second // so that what is not refused does not hang
	ours, others := g.queuedPlan(t, print).Links["self"]+part, g.queuedPlan(t, paint).Links["self"]+part
	refused := func(bearer, path, whose string) {
		t.Helper()
		g.crowded(t, g.as(t, bearer, http.MethodGet, path, "", headers...), code, whose)
	}
	first := g.begin(t, print, ours, headers...)
	defer g.begin(t, print, ours, headers...)()
	g.until(t, gauge, 2)
	refused(print, ours, "This client has 2 ")
	defer g.begin(t, paint, others, headers...)()
	g.until(t, gauge, 3)
	refused(paint, others, "All clients together have 3 ")
	first() // who hangs up makes room
	g.until(t, gauge, 2)
	defer g.begin(t, paint, others, headers...)()
	g.until(t, gauge, 3)
}

// Requests that wait are bounded, and give their place back when they end.
func TestWaitingIsBounded(t *testing.T) {
	heldBounds(t, "knifedesk_requests_waiting", "too_many_waiting", "", "Prefer", "wait=60")
}

// So are event streams.
func TestStreamsAreBounded(t *testing.T) {
	heldBounds(t, "knifedesk_event_streams", "too_many_streams", "/events")
}

// A request that may not wait has done nothing: no plan was made, and the same
// Idempotency-Key is not answered 429 for ever.
func TestRefusedToWaitMakesNothing(t *testing.T) {
	g, print, _ := openIdle(t, api.Config{Waiting: api.Bound{Client: 1, All: 1}})
	end := g.begin(t, print, g.queuedPlan(t, print).Links["self"], "Prefer", "wait=60")
	g.until(t, "knifedesk_requests_waiting", 1)
	again := func(wait string) answer { return g.asked(t, print, "Prefer", wait, "Idempotency-Key", "one") }
	g.crowded(t, again("wait=30"), "too_many_waiting", "This client has 1 ")
	if n := g.plans(t); n != 1 {
		t.Errorf("%d plans after the refusal", n)
	}
	end()
	g.until(t, "knifedesk_requests_waiting", 0)
	again("wait=1").wants(t, "the same again", http.StatusAccepted, "")
	again("wait=1").wants(t, "and a third time", http.StatusAccepted, "")
	if n := g.plans(t); n != 2 {
		t.Errorf("%d plans in the end", n)
	}
}

func (g guarded) plans(t *testing.T) (n int) {
	t.Helper()
	if err := g.store.Pool.QueryRow(t.Context(), `select count(*) from plans`).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// Plans in the queue are bounded, however many are sent at once; one that is
// cancelled makes room.
func TestQueuedPlansAreBounded(t *testing.T) {
	g, print, paint := openIdle(t, api.Config{Queued: api.Bound{Client: 4, All: 6}})
	answers := make(chan answer, 24)
	var sent sync.WaitGroup
	for i := range cap(answers) {
		sent.Go(func() { answers <- g.asked(t, []string{print, paint}[i%2]) })
	}
	sent.Wait()
	close(answers)
	var taken []api.Plan
	of := map[string]int{}
	for a := range answers {
		if a.status != http.StatusAccepted {
			g.crowded(t, a, "too_many_plans", "")
			continue
		}
		var p api.Plan
		a.json(t, &p)
		taken = append(taken, p)
		of[p.Owner]++
	}
	if len(taken) != 6 || of["print"] > 4 || of["paint"] > 4 || g.plans(t) != 6 {
		t.Errorf("%d plans were taken in (%v), and %d are there", len(taken), of, g.plans(t))
	}
	g.as(t, g.staff(t), http.MethodDelete, taken[0].Links["self"], "").wants(t, "cancelled", http.StatusOK, "")
	time.Sleep(100 * time.Millisecond) // longer than a refusal is remembered
	if n := of["print"]; n < 4 || taken[0].Owner == "print" {
		g.queuedPlan(t, print)
	} else {
		g.queuedPlan(t, paint)
	}
}

// A client that has as many plans as it may does not stand in another's way.
func TestOneClientDoesNotFillTheQueue(t *testing.T) {
	g, print, paint := openIdle(t, api.Config{Queued: api.Bound{Client: 1, All: 9}})
	g.queuedPlan(t, print)
	g.crowded(t, g.asked(t, print), "too_many_plans", "This client has 1 ")
	g.queuedPlan(t, paint)
}
