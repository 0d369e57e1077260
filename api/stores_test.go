package api_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"reflect"
	"strings"
	"testing"

	"knifedesk/api"
)

// send sends JSON and reads the answer into a T.
func send[T any](t *testing.T, d *desk, method, path string, body any, status int, headers ...string) (out T) {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	a := d.call(t, method, path, text, append(headers, "Content-Type", "application/json")...)
	if a.status != status {
		t.Fatalf("%s %s: %d %s, want %d", method, path, a.status, a.body, status)
	}
	if len(a.body) > 0 {
		a.json(t, &out)
	}
	return out
}

type fields = map[string]any

func storeEndpoints(t *testing.T, d *desk) {
	got := send[api.Posting](t, d, http.MethodPost, "/v1/receipts", fields{"item": "film-removable-610", "amount": 1000, "batch": "2026-31"}, http.StatusCreated)
	lot := got.Movements[0].Lot
	if len(lot) != 4 || got.Movements[0].Amount != 1000 {
		t.Errorf("%+v", got)
	}
	if again := send[api.Posting](t, d, http.MethodGet, "/v1/ledger/"+got.ID.String(), nil, http.StatusOK); again.ID != got.ID {
		t.Errorf("%+v", again)
	}
	level := send[api.Level](t, d, http.MethodPut, "/v1/levels/film-removable-610", fields{"reorder_at": 900}, http.StatusOK)
	if one := send[api.Level](t, d, http.MethodGet, "/v1/levels/film-removable-610", nil, http.StatusOK); !reflect.DeepEqual(one, level) {
		t.Errorf("stored %+v, read %+v", level, one)
	}
	d.call(t, http.MethodGet, "/v1/levels/nothing", nil).wants(t, "an item that is not kept", http.StatusNotFound, "not_found")
	if level.Low || level.Free != 1000 || len(level.Lots) != 1 || level.Lots[0].Code != lot {
		t.Errorf("%+v", level)
	}
	rules := send[api.StoreRules](t, d, http.MethodGet, "/v1/store-rules", nil, http.StatusOK)
	if rules.HoldH != 72 || rules.AfterBookingH != 24 {
		t.Errorf("%+v", rules)
	}
	send[api.StoreRules](t, d, http.MethodPut, "/v1/store-rules", rules, http.StatusOK)

	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "copies", "2", "cost_code", "4711")
	where := p.Actions["accept"]
	if a := d.call(t, http.MethodGet, where, nil); a.status != http.StatusNotFound {
		t.Errorf("never accepted: %d", a.status)
	}
	a := send[api.Acceptance](t, d, http.MethodPost, where, fields{}, http.StatusCreated)
	if a.State != api.AcceptanceStateHeld || a.TotalMinor != p.Estimate.TotalMinor || a.CostCode != "4711" || a.Holding[0].Lot != lot {
		t.Errorf("%+v", a)
	}
	if again := send[api.Acceptance](t, d, http.MethodGet, where, nil, http.StatusOK); again.ID != a.ID {
		t.Errorf("%+v", again)
	}
	shown := send[api.Plan](t, d, http.MethodGet, p.Links["self"], nil, http.StatusOK)
	if shown.Acceptance == nil || shown.Acceptance.ID != a.ID || shown.Links["acceptance"] != where || shown.CostCode != "4711" {
		t.Errorf("the plan shows %+v", shown.Acceptance)
	}
	all := send[map[string][]api.Level](t, d, http.MethodGet, "/v1/levels", nil, http.StatusOK)
	for _, l := range all["levels"] {
		if l.Item == "film-removable-610" && (!l.Low || l.Free+l.Reserved != 1000) {
			t.Errorf("%+v", l)
		}
	}
	for range 2 {
		if b := d.call(t, http.MethodDelete, where, nil); b.status != http.StatusNoContent {
			t.Errorf("%d %s", b.status, b.body)
		}
	}
}

// What an accepted plan says in a shell, in events, and to one who wants to change
// it.
func TestAcceptedPlan(t *testing.T) {
	d := open(t)
	p := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	answer := func(text string) fields {
		return fields{"answers": fields{"artwork/operation:score": fields{"answer": text}}}
	}
	p = send[api.Plan](t, d, http.MethodPost, p.Links["answers"], answer("nothing"), http.StatusOK, "Prefer", "wait=30")
	where := p.Actions["accept"]
	before := d.call(t, http.MethodGet, p.Links["self"], nil)
	a := send[api.Acceptance](t, d, http.MethodPost, where, fields{"booking_reference": "bay 2", "booking_ends": "2099-12-04T16:00:00+01:00"}, http.StatusCreated)
	if a.HeldUntil.Format("2006-01-02 15:04") != "2099-12-05 15:00" || a.Holding[0].Counted {
		t.Errorf("%+v", a)
	}
	if b := d.call(t, http.MethodGet, p.Links["self"], nil, "If-None-Match", before.header.Get("ETag")); b.status != http.StatusOK {
		t.Errorf("the plan as it was before: %d", b.status)
	}
	text := string(d.call(t, http.MethodGet, p.Links["self"], nil, "Accept", "text/plain").body)
	if !strings.HasPrefix(text, "accepted   until 2099-12-05 15:00 UTC, at "+p.Estimate.TotalText+"\nheld  ") || !strings.Contains(text, "not counted") {
		t.Errorf("%s", text)
	}
	if f := send[api.Problem](t, d, http.MethodPost, p.Links["answers"], answer("cut"), http.StatusConflict); f.Code != "accepted" {
		t.Errorf("%+v", f)
	}
	if b := d.call(t, http.MethodDelete, p.Links["self"], nil); b.status != http.StatusOK {
		t.Errorf("cancelling: %d", b.status)
	}
	if again := send[api.Acceptance](t, d, http.MethodGet, where, nil, http.StatusOK); again.State != api.AcceptanceStateHeld {
		t.Errorf("after cancelling, which a ready plan is not: %+v", again)
	}
	if b := d.call(t, http.MethodDelete, where, nil); b.status != http.StatusNoContent {
		t.Errorf("%d", b.status)
	}
	events := d.call(t, http.MethodGet, p.Links["self"]+"/events?follow=acceptance", nil)
	if !bytes.Contains(events.body, []byte("event: acceptance")) || !bytes.Contains(events.body, []byte(`"state":"freed"`)) {
		t.Errorf("%s", events.body)
	}
	send[api.Plan](t, d, http.MethodPost, p.Links["answers"], answer("cut"), http.StatusAccepted)
}

func TestStoreProblems(t *testing.T) {
	d := open(t)
	send[api.Posting](t, d, http.MethodPost, "/v1/receipts", fields{"item": "card-220-a4", "amount": 1}, http.StatusCreated)
	send[api.Posting](t, d, http.MethodPost, "/v1/receipts", fields{"item": "card-220-a3", "amount": 50}, http.StatusCreated)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "card-220-a4", "copies", "30", "frame", "none")
	f := send[api.Problem](t, d, http.MethodPost, p.Actions["accept"], fields{}, http.StatusConflict)
	if f.Code != "stock_short" || f.Shortfall == nil || f.Shortfall.ShortBy != f.Shortfall.Needed-1 || f.Shortfall.NearestStockID != "card-220-a3" || !strings.Contains(f.Change, "card-220-a3") {
		t.Errorf("%+v", f)
	}
	for _, c := range []struct {
		body fields
		code string
	}{
		{fields{"item": "nothing", "amount": 1}, "unknown_item"},
		{fields{"item": "tape-medium", "amount": 10000}, "invalid_body"},
		{fields{"item": "card-220-a4", "amount": 1, "width_mm": 300}, "invalid_body"},
		{fields{"item": "card-220-a4", "amount": 1.5}, "invalid_body"},
	} {
		if f := send[api.Problem](t, d, http.MethodPost, "/v1/receipts", c.body, http.StatusUnprocessableEntity); f.Code != c.code {
			t.Errorf("%v: %+v", c.body, f)
		}
	}
	if f := send[api.Problem](t, d, http.MethodPost, p.Actions["accept"], fields{"booking_ends": "tomorrow"}, http.StatusUnprocessableEntity); f.Code != "invalid_body" {
		t.Errorf("%+v", f)
	}
	asking := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	if f := send[api.Problem](t, d, http.MethodPost, asking.Links["self"]+"/acceptance", fields{}, http.StatusConflict); f.Code != "not_ready" {
		t.Errorf("%+v", f)
	}
}

// A request that comes again takes nothing in twice and gets the same answer.
func TestStoreRequestsComeAgain(t *testing.T) {
	d := open(t)
	receipt := fields{"item": "card-220-a4", "amount": 10}
	first := send[api.Posting](t, d, http.MethodPost, "/v1/receipts", receipt, http.StatusCreated, "Idempotency-Key", "r1")
	again := send[api.Posting](t, d, http.MethodPost, "/v1/receipts", receipt, http.StatusCreated, "Idempotency-Key", "r1")
	if first.ID != again.ID {
		t.Errorf("%s and %s", first.ID, again.ID)
	}
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "card-220-a4", "frame", "none")
	a := send[api.Acceptance](t, d, http.MethodPost, p.Actions["accept"], fields{}, http.StatusCreated, "Idempotency-Key", "a1")
	// As after a crash between the work and its answer: the claim knows only what was made.
	if _, err := d.store.Pool.Exec(t.Context(), `update idempotency set status = null, body = null`); err != nil {
		t.Fatal(err)
	}
	b := send[api.Acceptance](t, d, http.MethodPost, p.Actions["accept"], fields{}, http.StatusCreated, "Idempotency-Key", "a1")
	c := send[api.Posting](t, d, http.MethodPost, "/v1/receipts", receipt, http.StatusCreated, "Idempotency-Key", "r1")
	if a.ID != b.ID || c.ID != first.ID {
		t.Errorf("%s and %s, %s and %s", a.ID, b.ID, first.ID, c.ID)
	}
}

func outcomeEndpoints(t *testing.T, d *desk) {
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "copies", "8", "cost_code", "4711")
	var at struct{ Levels []api.Level }
	d.call(t, http.MethodGet, "/v1/levels", nil).json(t, &at)
	a := send[api.Acceptance](t, d, http.MethodPost, p.Actions["accept"], fields{}, http.StatusCreated)
	lot := a.Holding[0].Lot
	out := send[api.Posting](t, d, http.MethodPost, "/v1/outcomes", fields{"plan_id": p.ID, "step": "issued"}, http.StatusCreated)
	if out.Kind != "issue" || out.Movements[0].To != "issued" {
		t.Errorf("%+v", out)
	}
	if f := send[api.Problem](t, d, http.MethodDelete, p.Actions["accept"], nil, http.StatusConflict); f.Code != "already_issued" {
		t.Errorf("%+v", f)
	}
	if f := send[api.Problem](t, d, http.MethodDelete, p.Links["self"]+"?erase=true", nil, http.StatusConflict); f.Code != "already_issued" {
		t.Errorf("%+v", f)
	}
	done := fields{
		"plan_id": p.ID, "step": "done", "cutter_min": 12.25, "bench_min": 23.87, "reported_by": "the technician",
		"lots": []fields{{"lot": lot, "spoiled": 20}}, "offcuts": []fields{{"lot": lot, "width_mm": 260, "length_mm": 290}},
		"spoiled_pieces": []fields{{"copy": 3, "piece": 1, "reason": "lifted"}, {"copy": 3, "piece": 2}},
	}
	settled := send[api.Posting](t, d, http.MethodPost, "/v1/outcomes", done, http.StatusCreated)
	if settled.PriceMinor != a.TotalMinor || settled.CutterMin != 12.25 || settled.CostCode != "4711" {
		t.Errorf("%+v", settled)
	}
	back := send[api.Posting](t, d, http.MethodPost, "/v1/ledger/"+settled.ID.String()+"/reversal", fields{"remark": "wrong roll"}, http.StatusCreated)
	if *back.Reverses != settled.ID || back.PriceMinor != -a.TotalMinor {
		t.Errorf("%+v", back)
	}
	send[api.Posting](t, d, http.MethodPost, "/v1/outcomes", done, http.StatusCreated)
	aside := send[api.Posting](t, d, http.MethodPost, "/v1/offcuts", fields{"from_stock_id": "film-removable-610", "width_mm": 250, "length_mm": 60}, http.StatusCreated)
	if len(aside.Movements[0].Lot) != 4 {
		t.Errorf("%+v", aside)
	}
	found := send[map[string][]api.Offcut](t, d, http.MethodGet, "/v1/offcuts?stock_id=film-removable-610&width_mm=280&length_mm=100", nil, http.StatusOK)["offcuts"]
	if len(found) != 1 || found[0].WidthMM != 260 || found[0].StockID == "" || found[0].State != "free" {
		t.Fatalf("%+v", found)
	}
	recutEndpoints(t, d, p, "offcut-"+strings.ToLower(aside.Movements[0].Lot), found[0].StockID)
	reportEndpoints(t, d, a.TotalMinor)
	if b := d.call(t, http.MethodDelete, p.Links["self"]+"?erase=true", nil); b.status != http.StatusNoContent {
		t.Errorf("erasing: %d %s", b.status, b.body)
	}
	if b := d.call(t, http.MethodGet, p.Links["self"], nil); b.status != http.StatusNotFound {
		t.Errorf("an erased plan answers %d", b.status)
	}
	reportEndpoints(t, d, a.TotalMinor)
}

// One of eight lifted: one is cut again, on the smallest offcut that holds it and is
// not held for another plan.
func recutEndpoints(t *testing.T, d *desk, p api.Plan, smallest, next string) {
	again := send[api.Plan](t, d, http.MethodPost, p.Actions["recut"], fields{"reason": "lifted from the mat", "cost_code": "workshop"}, http.StatusOK, "Prefer", "wait=30")
	if again.Status != "ready" || again.Copies != 1 || again.StockID != smallest || *again.RecutOf != p.ID || again.RecutReason != "lifted from the mat" || again.CostCode != "workshop" {
		t.Errorf("%s: %d on %s, of %v for %q, %s", again.Status, again.Copies, again.StockID, again.RecutOf, again.RecutReason, again.CostCode)
	}
	send[api.Acceptance](t, d, http.MethodPost, again.Actions["accept"], fields{}, http.StatusCreated)
	other := send[api.Plan](t, d, http.MethodPost, p.Actions["recut"], fields{"reason": "again", "pieces": []fields{{"copy": 1}, {"copy": 8}}}, http.StatusOK, "Prefer", "wait=30")
	if other.Copies != 2 || other.StockID != next {
		t.Errorf("%d on %s", other.Copies, other.StockID)
	}
	if f := send[api.Problem](t, d, http.MethodPost, p.Actions["recut"], fields{"reason": "again", "pieces": []fields{{"copy": 9}}}, http.StatusUnprocessableEntity); f.Code != "unknown_copy" {
		t.Errorf("%+v", f)
	}
	if f := send[api.Problem](t, d, http.MethodPost, p.Actions["recut"], fields{"reason": "again", "pieces": []fields{{"copy": 1, "piece": 999}}}, http.StatusUnprocessableEntity); f.Code != "unknown_piece" {
		t.Errorf("%+v", f)
	}
	if f := send[api.Problem](t, d, http.MethodPost, other.Actions["recut"], fields{"reason": "again"}, http.StatusUnprocessableEntity); f.Code != "nothing_spoiled" {
		t.Errorf("%+v", f)
	}
}

func reportEndpoints(t *testing.T, d *desk, price int64) {
	r := send[api.StoresReport](t, d, http.MethodGet, "/v1/reports/stores.json?stock_id=film-removable-610&cost_code=4711&from=2020-01-01&to=2999-12-31", nil, http.StatusOK)
	if !r.Balanced || len(r.Rows) == 0 || r.Rows[len(r.Rows)-1].Kind != "roll" {
		t.Fatalf("%+v", r)
	}
	var spoiled, plans, minor int64
	for _, row := range r.Rows {
		spoiled, plans, minor = spoiled+row.Spoiled, plans+row.Plans, minor+row.PriceMinor
	}
	if spoiled != 20 || plans != 1 || minor != price {
		t.Errorf("%+v", r.Rows)
	}
	if none := send[api.StoresReport](t, d, http.MethodGet, "/v1/reports/stores.json?to=2020-01-01", nil, http.StatusOK); len(none.Rows) != 0 {
		t.Errorf("%+v", none.Rows)
	}
	table := string(d.call(t, http.MethodGet, "/v1/reports/stores.csv?by=year", nil).body)
	if lines := strings.Split(table, "\r\n"); !strings.HasPrefix(lines[0], "period,stock_id,") || !strings.Contains(table, ",4711,roll,mm,") {
		t.Errorf("%s", table)
	}
}
