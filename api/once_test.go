package api_test

import (
	"bytes"
	"context"
	"net/http"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"knifedesk/api"
	"knifedesk/db"
)

func TestIdempotencyKey(t *testing.T) {
	d := open(t)
	headers := []string{"Content-Type", "image/svg+xml", "Idempotency-Key", "bay-4-0001"}
	first := d.call(t, http.MethodPost, "/v1/drawings", []byte(plate), headers...)
	again := d.call(t, http.MethodPost, "/v1/drawings", []byte(plate), headers...)
	if first.status != http.StatusCreated || again.status != first.status || !bytes.Equal(first.body, again.body) {
		t.Errorf("first %d %s\nagain %d %s", first.status, first.body, again.status, again.body)
	}
	if first.header.Get("Location") != again.header.Get("Location") {
		t.Error("the second answer names another place")
	}
	for _, other := range []answer{
		d.call(t, http.MethodPost, "/v1/drawings", []byte(folded), headers...),
		d.call(t, http.MethodPost, "/v1/drawings?name=another.svg", []byte(plate), headers...),
	} {
		d.refuses(t, other, http.StatusUnprocessableEntity, "key_reused")
	}
}

// A form is the same request however its parts are bounded.
func TestIdempotencyKeyOfAForm(t *testing.T) {
	d := open(t)
	var answers [2]answer
	for i := range answers {
		body, kind := form(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
		answers[i] = d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind, "Prefer", "wait=30", "Idempotency-Key", "bay-4-0002")
	}
	if answers[0].status != http.StatusOK || !bytes.Equal(answers[0].body, answers[1].body) {
		t.Errorf("%d %s\n%d %s", answers[0].status, answers[0].body, answers[1].status, answers[1].body)
	}
	d.holds(t, 1)
}

// Many send the same request at once: one plan is made, and all get the same
// answer.
func TestIdempotencyKeyAtOnce(t *testing.T) {
	d := open(t)
	body, kind := form(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	answers := make([]answer, 30)
	together(len(answers), func(i int) {
		answers[i] = d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind, "Prefer", "wait=30", "Idempotency-Key", "bay-4-0003")
	})
	for _, a := range answers {
		if a.status != http.StatusOK || !bytes.Equal(a.body, answers[0].body) || a.header.Get("Location") != answers[0].header.Get("Location") {
			t.Errorf("%d %s", a.status, a.body)
		}
	}
	d.holds(t, 1)
}

// The client hangs up as soon as the plan is made, and sends the request again.
func TestIdempotencyKeyAfterHangingUp(t *testing.T) {
	d := open(t)
	body, kind := form(t, "rings.svg", dense(100), "stock", "film-removable-610")
	release := d.hold(t)
	ctx, hangUp := context.WithCancel(t.Context())
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, d.URL+"/v1/plans", bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for name, value := range map[string]string{"Content-Type": kind, "Prefer": "wait=60", "Idempotency-Key": "bay-4-0004"} {
		req.Header.Set(name, value)
	}
	go func() {
		for len(d.list(t)) == 0 {
			time.Sleep(5 * time.Millisecond)
		}
		hangUp()
	}()
	if resp, err := d.Client().Do(req); err == nil {
		resp.Body.Close()
		t.Fatal("it was answered before the client could hang up")
	}
	release()
	a := d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind, "Prefer", "wait=60", "Idempotency-Key", "bay-4-0004")
	var p api.Plan
	a.json(t, &p)
	if a.status != http.StatusOK || p.Status != "ready" {
		t.Errorf("sent again: %d %s", a.status, a.body)
	}
	d.holds(t, 1)
}

// The process dies once the plan is made and before the request is answered;
// another gets the same request. This is what the database holds then.
func TestIdempotencyKeyAfterACrash(t *testing.T) {
	d := open(t)
	body, kind := form(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	headers := []string{"Content-Type", kind, "Prefer", "wait=30", "Idempotency-Key", "bay-4-0005"}
	first := d.call(t, http.MethodPost, "/v1/plans", body, headers...)
	drawing := d.call(t, http.MethodPost, "/v1/drawings", []byte(plate), "Idempotency-Key", "bay-4-0006")
	_, err := d.store.Pool.Exec(t.Context(), `update idempotency set status = null, body = null, created = created - interval '1 hour'`)
	if err != nil {
		t.Fatal(err)
	}
	again := d.call(t, http.MethodPost, "/v1/plans", body, headers...)
	if again.status != http.StatusOK || !bytes.Equal(first.body, again.body) {
		t.Errorf("first %d %s\nagain %d %s", first.status, first.body, again.status, again.body)
	}
	d.holds(t, 1)
	if again := d.call(t, http.MethodPost, "/v1/drawings", []byte(plate), "Idempotency-Key", "bay-4-0006"); !bytes.Equal(again.body, drawing.body) {
		t.Errorf("first %d %s\nagain %d %s", drawing.status, drawing.body, again.status, again.body)
	}
}

// The process dies before it made anything: after a while the key is free.
func TestIdempotencyKeyOfADeadRequest(t *testing.T) {
	d := open(t)
	claim := func(age string) answer {
		_, err := d.store.Pool.Exec(t.Context(), `update idempotency set status = null, headers = null, created = now() - $1::interval`, age)
		if err != nil {
			t.Fatal(err)
		}
		return d.call(t, http.MethodPost, "/v1/drawings", []byte(plate), "Idempotency-Key", "bay-4-0007")
	}
	d.call(t, http.MethodPost, "/v1/drawings", []byte(plate), "Idempotency-Key", "bay-4-0007")
	a := claim("0 seconds")
	d.refuses(t, a, http.StatusConflict, "still_working")
	if a.header.Get("Retry-After") == "" {
		t.Error("it does not say when to come again")
	}
	if a := claim("1 hour"); a.status != http.StatusCreated {
		t.Errorf("%d %s", a.status, a.body)
	}
}

// A plan that is asked for while its drawing is erased is made or is not; both
// are told as they are.
func TestPlanningWhatIsErased(t *testing.T) {
	d := open(t)
	for range 5 {
		var sent api.Drawing
		d.call(t, http.MethodPost, "/v1/drawings", []byte(plate)).json(t, &sent)
		order := []byte(`{"stock_id":"film-removable-610","drawing_id":"` + sent.ID.String() + `"}`)
		together(8, func(i int) {
			if i%2 == 0 {
				if a := d.call(t, http.MethodDelete, "/v1/drawings/"+sent.ID.String(), nil); a.status != 204 && a.status != 404 && a.status != 409 {
					t.Errorf("erasing: %d %s", a.status, a.body)
				}
				return
			}
			if a := d.call(t, http.MethodPost, "/v1/plans", order, "Content-Type", "application/json"); a.status != 202 && a.status != 404 {
				t.Errorf("planning: %d %s", a.status, a.body)
			}
		})
	}
}

// list returns all plans there are.
func (d *desk) list(t *testing.T) []db.PlanView {
	plans, err := d.store.PlanViews(t.Context(), db.PlanFilter{Client: "local", Limit: 1000})
	if err != nil {
		t.Error(err)
	}
	return plans
}

// hold keeps workers from handing in results until release is called: plans are
// computed and stay under way.
func (d *desk) hold(t *testing.T) (release func()) {
	t.Helper()
	tx, err := d.store.Pool.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Exec(t.Context(), `lock table results in share mode`); err != nil {
		t.Fatal(err)
	}
	release = sync.OnceFunc(func() { _ = tx.Rollback(context.WithoutCancel(t.Context())) })
	t.Cleanup(release)
	return release
}

// holds checks how many plans there are.
func (d *desk) holds(t *testing.T, want int) {
	t.Helper()
	var ids []uuid.UUID
	for _, p := range d.list(t) {
		ids = append(ids, p.ID)
	}
	if len(ids) != want {
		t.Errorf("there are %d plans, want %d: %v", len(ids), want, ids)
	}
}

// refuses checks that an answer is a problem with what it takes to mend it.
func (d *desk) refuses(t *testing.T, a answer, status int, code string) api.Problem {
	t.Helper()
	var p api.Problem
	a.json(t, &p)
	if a.status != status || p.Code != code {
		t.Errorf("%d %s, want %d %s", a.status, a.body, status, code)
	}
	if p.Detail == "" || p.Change == "" || p.RequestID == "" || p.Status != a.status || a.header.Get("Content-Type") != "application/problem+json" {
		t.Errorf("no proper problem: %s %s", a.header.Get("Content-Type"), a.body)
	}
	return p
}
