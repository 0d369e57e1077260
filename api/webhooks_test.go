package api_test

import (
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	standardwebhooks "github.com/standard-webhooks/standard-webhooks/libraries/go"

	"knifedesk/api"
	"knifedesk/jobs/queue"
)

// receiver is a booking system that is told of plans, and answers as it is asked
// to.
type receiver struct {
	*httptest.Server
	mu     sync.Mutex
	answer int
	got    []http.Header
	bodies [][]byte
}

func newReceiver(t *testing.T, answer int) *receiver {
	r := &receiver{answer: answer}
	r.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, req *http.Request) {
		body, _ := io.ReadAll(req.Body)
		r.mu.Lock()
		defer r.mu.Unlock()
		r.got, r.bodies = append(r.got, req.Header), append(r.bodies, body)
		w.WriteHeader(r.answer)
	}))
	t.Cleanup(r.Close)
	return r
}

func (r *receiver) answers(status int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.answer = status
}

// told returns what it was told so far.
func (r *receiver) told() (headers []http.Header, bodies [][]byte) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Clone(r.got), slices.Clone(r.bodies)
}

// hook has a receiver told of what the body says.
func (g guarded) hook(t *testing.T, staff, body string) api.NewWebhook {
	t.Helper()
	a := g.as(t, staff, "POST", "/v1/webhooks", body)
	a.wants(t, "a webhook", http.StatusCreated, "")
	var made api.NewWebhook
	a.json(t, &made)
	return made
}

// delivered waits until the receiver has a delivery in the state and returns it.
func (g guarded) delivered(t *testing.T, staff string, hook api.NewWebhook, state string) api.Delivery {
	t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		var list struct{ Deliveries []api.Delivery }
		g.as(t, staff, "GET", "/v1/webhooks/"+hook.ID.String()+"/deliveries?state="+state, "").json(t, &list)
		if len(list.Deliveries) > 0 {
			return list.Deliveries[0]
		}
	}
	t.Fatalf("nothing becomes %s", state)
	return api.Delivery{}
}

// A receiver is told of the plans that are its own, signed, tried again until it
// is given up, and told once more when that is asked for.
func TestWebhooks(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.key(t, "workshop", "manage")
	good, bad, gone := newReceiver(t, 204), newReceiver(t, 302), newReceiver(t, 410)
	all := g.hook(t, staff, `{"url":"`+good.URL+`"}`)
	broken := g.hook(t, staff, `{"url":"`+bad.URL+`","owner":"print","events":["plan.ready"]}`)
	ended := g.hook(t, staff, `{"url":"`+gone.URL+`","owner":"print"}`)
	others := g.hook(t, staff, `{"url":"`+good.URL+`/others","owner":"paint"}`)
	asking := g.hook(t, staff, `{"url":"`+good.URL+`/asking","events":["plan.asking"]}`)
	p := g.planned(t, ours)

	d := g.delivered(t, staff, all, "delivered")
	if d.PlanID == nil || *d.PlanID != p.ID || d.Event != "plan.ready" || d.Attempts != 1 || d.Status != 204 {
		t.Errorf("%+v", d)
	}
	verify, err := standardwebhooks.NewWebhook(all.Secret)
	if err != nil {
		t.Fatal(err)
	}
	headers, bodies := good.told()
	if err := verify.Verify(bodies[0], headers[0]); err != nil {
		t.Errorf("%v: %s", err, bodies[0])
	}
	var message any
	if err := json.Unmarshal(bodies[0], &message); err != nil {
		t.Fatal(err)
	}
	if err := g.spec.Components.Schemas["WebhookMessage"].Value.VisitJSON(message); err != nil {
		t.Errorf("%v: %s", err, bodies[0])
	}
	dead := g.delivered(t, staff, broken, "dead")
	tries, _ := bad.told()
	if dead.Attempts != 3 || dead.Fault != "redirect" || len(tries) != 3 || tries[0].Get("webhook-id") != tries[2].Get("webhook-id") {
		t.Errorf("a receiver that fails: %+v, told %v", dead, tries)
	}
	bad.answers(200)
	again := g.as(t, staff, "POST", "/v1/webhooks/"+broken.ID.String()+"/deliveries/"+dead.ID.String()+"/resend", "")
	again.wants(t, "resending", http.StatusAccepted, "")
	if d := g.delivered(t, staff, broken, "delivered"); d.Attempts != 1 {
		t.Errorf("resent: %+v", d)
	}
	if tries, _ := bad.told(); len(tries) != 4 || tries[3].Get("webhook-id") != tries[0].Get("webhook-id") {
		t.Errorf("resent: %v", tries)
	}
	if d := g.delivered(t, staff, ended, "dead"); d.Status != 410 || d.Attempts != 1 {
		t.Errorf("one that wants no more: %+v", d)
	}
	list := g.as(t, staff, "GET", "/v1/webhooks", "")
	if strings.Contains(string(list.body), "whsec_") || !strings.Contains(string(list.body), `"active":false`) {
		t.Errorf("the list: %s", list.body)
	}
	for _, h := range []api.NewWebhook{others, asking} {
		var none struct{ Deliveries []api.Delivery }
		if g.as(t, staff, "GET", "/v1/webhooks/"+h.ID.String()+"/deliveries", "").json(t, &none); len(none.Deliveries) > 0 {
			t.Errorf("told of what it did not ask for: %+v", none)
		}
	}
	g.as(t, staff, "DELETE", "/v1/webhooks/"+all.ID.String(), "").wants(t, "dropping it", http.StatusNoContent, "")
	g.as(t, staff, "DELETE", "/v1/webhooks/"+all.ID.String(), "").wants(t, "dropping it again", http.StatusNotFound, "not_found")
	g.as(t, staff, "POST", "/v1/webhooks", `{"url":"file:///etc/passwd"}`).wants(t, "an address that is none", http.StatusUnprocessableEntity, "invalid_body")
}

// A receiver on this machine, or in a private network, cannot be named unless the
// service was told that it may reach those; none is kept.
func TestPrivateReceiversAreNotNamed(t *testing.T) {
	d := startOn(t, api.Config{Keyless: true}, queue.Config{Interactive: 1, Batch: 1})
	for _, url := range []string{"http://127.0.0.1:8090/", "http://localhost:8090/", "https://[fe80::1%25eth0]/", "http://10.0.0.7/in"} {
		d.call(t, "POST", "/v1/webhooks", []byte(`{"url":"`+url+`"}`), "Content-Type", "application/json").wants(t, url, http.StatusUnprocessableEntity, "private_address")
	}
	d.call(t, "POST", "/v1/webhooks", []byte(`{"url":"http://2130706433/"}`), "Content-Type", "application/json").wants(t, "a number", http.StatusUnprocessableEntity, "invalid_body")
	if a := d.call(t, "GET", "/v1/webhooks", nil); string(a.body) != `{"webhooks":[]}` {
		t.Errorf("the list: %s", a.body)
	}
	d.call(t, "POST", "/v1/webhooks", []byte(`{"url":"https://booking.example.org/in"}`), "Content-Type", "application/json").wants(t, "a name", http.StatusCreated, "")
}

// The place in a trace of the request that made a plan goes with the jobs that work it
// out and with what receivers are told, also when another worker takes it up.
func TestTraceFollowsThePlan(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff := g.key(t, "workshop", "manage")
	booking := newReceiver(t, http.StatusOK)
	hook := g.hook(t, staff, `{"url":"`+booking.URL+`"}`)
	const traced = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01" // the example of W3C Trace Context
	body, kind := form(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	g.call(t, "POST", "/v1/plans", body, "Authorization", staff, "Content-Type", kind, "Prefer", "wait=30", "traceparent", traced).wants(t, "a plan", http.StatusOK, "")
	g.delivered(t, staff, hook, "delivered")
	if told, _ := booking.told(); told[0].Get("traceparent") != traced {
		t.Errorf("the receiver got %q", told[0].Get("traceparent"))
	}
	var jobs int
	if err := g.store.Pool.QueryRow(t.Context(), `select count(*) from river_job where args ->> 'traceparent' = $1`, traced).Scan(&jobs); err != nil || jobs == 0 {
		t.Errorf("%d jobs of the queue have it, %v", jobs, err)
	}
	g.planned(t, staff) // the same by a request without
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if told, _ := booking.told(); len(told) == 2 {
			break
		}
	}
	if told, _ := booking.told(); len(told) != 2 || told[1].Values("traceparent") != nil {
		t.Errorf("%d messages, and the receiver got %q of a plan without", len(told), told[len(told)-1].Get("traceparent"))
	}
}
