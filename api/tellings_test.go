package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"testing"
	"time"

	"knifedesk/api"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/webhook"
	"knifedesk/jobs/workshop"
)

// heard waits until a receiver was told of a type so often, and returns the last.
func (r *receiver) heard(t *testing.T, kind string, times int) api.WebhookMessage {
	t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		_, bodies := r.told()
		n := 0
		for _, body := range bodies {
			var m api.WebhookMessage
			if err := json.Unmarshal(body, &m); err != nil {
				t.Fatal(err)
			}
			if string(m.Type) != kind {
				continue
			}
			if n++; n == times {
				return m
			}
		}
	}
	t.Fatalf("nobody was told of %s", kind)
	return api.WebhookMessage{}
}

// inPlaceOf asks for a plan of the same drawing in copies that supersedes another.
func (g guarded) inPlaceOf(t *testing.T, bearer string, older api.Plan, copies int) api.Plan {
	t.Helper()
	var p api.Plan
	a := g.as(t, bearer, "POST", "/v1/plans", fmt.Sprintf(`{"drawing_id":%q,"stock_id":"film-removable-610","copies":%d,"supersedes":%q}`, older.DrawingID, copies, older.ID), "Prefer", "wait=30")
	if a.json(t, &p); p.Status != "ready" {
		t.Fatalf("%d %s", a.status, a.body)
	}
	return p
}

// Receivers are told of what becomes of an acceptance, and of other minutes in the
// place of those they know; the price that was accepted stays.
func TestBookingIsToldOfAcceptancesAndDurations(t *testing.T) {
	d := startOn(t, api.Config{PerMinute: -1}, queue.Config{
		Interactive: 2, Batch: 2, LapseEvery: 100 * time.Millisecond, Webhooks: webhook.Config{Private: true},
	})
	d.seed(t, workshop.Example())
	g := guarded{d}
	staff := g.key(t, "workshop", "manage")
	booking, chosen := newReceiver(t, http.StatusOK), newReceiver(t, http.StatusOK)
	g.hook(t, staff, `{"url":"`+booking.URL+`"}`)
	g.hook(t, staff, `{"url":"`+chosen.URL+`","events":["acceptance.issued"]}`)
	p := g.planned(t, staff)
	accepted := g.as(t, staff, "POST", p.Links["self"]+"/acceptance", `{"booking_reference":"bay 2"}`)
	if m := booking.heard(t, "acceptance.made", 1); m.Data.PlanID != p.ID || m.Data.Acceptance.State != "held" || m.Data.Acceptance.BookingReference != "bay 2" {
		t.Errorf("made: %+v %+v", m.Data, m.Data.Acceptance)
	}
	g.as(t, staff, "POST", p.Links["self"]+"/acceptance", `{"booking_reference":"bay 3"}`).wants(t, "rebooking", http.StatusOK, "")

	same, more := g.inPlaceOf(t, staff, p, 1), g.inPlaceOf(t, staff, p, 9)
	m := booking.heard(t, "plan.durations_changed", 1)
	if m.Data.PlanID != more.ID || m.Data.Supersedes != p.ID || m.Data.DurationsBefore.CutterMin != p.Estimate.CutterMin ||
		m.Data.Durations.CutterMin != more.Estimate.CutterMin || m.Data.Durations.BenchMin != more.Estimate.BenchMin || m.Data.Durations.MachineID != "wide-610" {
		t.Errorf("%+v, not of %s, which takes as long", m.Data, same.ID)
	}
	var before, after api.Acceptance
	accepted.json(t, &before)
	g.as(t, staff, "GET", p.Links["self"]+"/acceptance", "").json(t, &after)
	if before.TotalText == "" || after.TotalText != before.TotalText || after.PriceUntil != before.PriceUntil || after.State != "held" {
		t.Errorf("the price accepted was %+v and is %+v", before, after)
	}

	g.as(t, staff, "POST", "/v1/outcomes", `{"plan_id":"`+p.ID.String()+`","step":"issued"}`).wants(t, "handing out", http.StatusCreated, "")
	booking.heard(t, "acceptance.issued", 1)
	g.as(t, staff, "POST", "/v1/outcomes", `{"plan_id":"`+p.ID.String()+`","step":"done"}`).wants(t, "reporting", http.StatusCreated, "")
	booking.heard(t, "acceptance.closed", 1)
	g.as(t, staff, "POST", same.Links["self"]+"/acceptance", `{}`).wants(t, "accepting", http.StatusCreated, "")
	g.as(t, staff, "DELETE", same.Links["self"]+"/acceptance", "").wants(t, "giving back", http.StatusNoContent, "")
	booking.heard(t, "acceptance.released", 1)
	g.as(t, staff, "POST", same.Links["self"]+"/acceptance", `{}`).wants(t, "accepting again", http.StatusCreated, "")
	g.lapses(t, same.ID.String(), "1 hour")
	booking.heard(t, "acceptance.lapsing", 1)
	g.lapses(t, same.ID.String(), "-1 hour")
	booking.heard(t, "acceptance.lapsed", 1)
	if m := booking.heard(t, "acceptance.made", 3); m.Data.PlanID != same.ID {
		t.Errorf("the third was made of %s", m.Data.PlanID)
	}
	headers, _ := booking.told()
	if ids := map[string]bool{}; slices.ContainsFunc(headers, func(h http.Header) bool { ids[h.Get("webhook-id")] = true; return false }) || len(ids) != 12 {
		t.Errorf("told of %d events, want 12", len(ids))
	}
	if _, bodies := chosen.told(); len(bodies) != 1 {
		t.Errorf("who chose one event was told of %d", len(bodies))
	}
}

// lapses sets when what is held for a plan is free again, from now.
func (g guarded) lapses(t *testing.T, plan, after string) {
	t.Helper()
	if _, err := g.store.Pool.Exec(t.Context(), `update acceptances set held_until = now() + $2::interval where plan = $1 and state = 'held'`, plan, after); err != nil {
		t.Fatal(err)
	}
}
