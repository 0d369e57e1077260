package api_test

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"knifedesk/api"
)

// A reader of the events sees the plan get on, job by job, until it is
// settled; each event fits the specification.
func TestEvents(t *testing.T) {
	d := open(t)
	body, kind := form(t, "rings.svg", dense(1500), "stock", "film-removable-610")
	var p api.Plan
	d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind).json(t, &p)
	var last, lastID string
	done, seen := -1, 0
	for event := range d.readEvents(t, p.Links["self"]+"/events") {
		if strings.HasPrefix(event, ":") { // a comment: the stream is still there
			continue
		}
		seen++
		fields := map[string]string{}
		for _, line := range strings.Split(event, "\n") {
			name, value, _ := strings.Cut(line, ": ")
			fields[name] = value
		}
		progress := d.progress(t, fields["data"])
		n := 0
		for _, s := range progress.Progress {
			if s.State == "done" {
				n++
			}
		}
		if n < done || fields["id"] == lastID || progress.ID != p.ID {
			t.Errorf("after %d stages:\n%s", done, event)
		}
		done, last, lastID = n, fields["event"], fields["id"]
	}
	if last != "settled" || done != 7 || seen < 4 {
		t.Errorf("%d events, the last is %s with %d stages done", seen, last, done)
	}
	if a := d.call(t, http.MethodGet, p.Links["self"]+"/events", nil, "Last-Event-ID", lastID); a.status != http.StatusNoContent {
		t.Errorf("a reader that has seen all gets %d", a.status)
	}
	d.refuses(t, d.call(t, http.MethodGet, "/v1/plans/"+uuid.NewString()+"/events", nil), http.StatusNotFound, "not_found")
}

func (d *desk) progress(t *testing.T, data string) (p api.PlanProgress) {
	t.Helper()
	var value any
	if err := json.Unmarshal([]byte(data), &value); err != nil {
		t.Fatalf("%v in %s", err, data)
	}
	if err := d.spec.Components.Schemas["PlanProgress"].Value.VisitJSON(value); err != nil {
		t.Errorf("%v in %s", err, data)
	}
	if err := json.Unmarshal([]byte(data), &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// Waits and streams end when the service is to stop.
func TestClosing(t *testing.T) {
	closing, closed := context.WithCancel(t.Context())
	d := openWith(t, api.Config{Closing: closing})
	body, kind := form(t, "rings.svg", dense(4000), "stock", "film-removable-610")
	var p api.Plan
	d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind).json(t, &p)
	events := d.readEvents(t, p.Links["self"]+"/events")
	<-events
	time.AfterFunc(100*time.Millisecond, closed)
	began := time.Now()
	if a := d.call(t, http.MethodGet, p.Links["self"], nil, "Prefer", "wait=60"); a.status != http.StatusOK {
		t.Errorf("a wait that was ended answers %d %s", a.status, a.body)
	}
	for range events {
	}
	if took := time.Since(began); took > 10*time.Second {
		t.Errorf("they ended after %s", took)
	}
	d.call(t, http.MethodDelete, p.Links["self"], nil)
}
