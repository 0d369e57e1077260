package api_test

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"
	"testing"
	"time"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/db/dbtest"
)

// marked is a drawing that bears a mark on a layer, as text and in its geometry.
const marked = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT-canarylayer" fill="none" stroke="#007c91"><rect x="10" y="10" width="47.11815" height="40"/></g>
<g id="CUT" fill="none" stroke="#007c91"><rect x="70" y="10" width="20" height="40"/></g>
<title>canarytext</title></svg>`

// canaries are what of it, and of what is said with it, must be nowhere in the end.
func canaries() []string {
	return []string{"canarylayer", "canarytext", "47.11815", "canaryname", "canaryreference", "canaryremark", "canaryperson", "canaryreason"}
}

// held says where canaries are found.
func (g guarded) held(t *testing.T) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	for _, c := range canaries() {
		if at := dbtest.Holding(t, g.store.Pool, []byte(c)); len(at) > 0 {
			found[c] = at
		}
	}
	return found
}

// cut sends the marked drawing for the holder of a key, has it planned, answers
// what is asked, and reports what became of it.
func (g guarded) cut(t *testing.T, bearer, reference string) api.Plan {
	t.Helper()
	body, kind := form(t, "canaryname.svg", []byte(marked), "stock", "card-220-a4", "frame", "none", "client_reference", reference)
	a := g.call(t, "POST", "/v1/plans", body, "Authorization", bearer, "Content-Type", kind, "Prefer", "wait=30", "Idempotency-Key", reference)
	var p api.Plan
	for range 5 {
		a.json(t, &p)
		if a.status != http.StatusOK || p.Status != "asking" {
			break
		}
		answers := ""
		for _, q := range p.Questions {
			at := slices.IndexFunc(q.Answers, func(a api.Answer) bool { return !a.NeedsMM })
			reason := ""
			if q.Answers[at].NeedsReason {
				reason = `,"reason":"canaryreason"`
			}
			answers += fmt.Sprintf(`,%q:{"answer":%q%s}`, q.ID, q.Answers[at].ID, reason)
		}
		a = g.as(t, bearer, "POST", p.Links["answers"], `{"answers":{`+answers[1:]+`}}`, "Prefer", "wait=30")
	}
	if p.Status != "ready" {
		t.Fatalf("%d %s: %s", a.status, p.Status, a.body)
	}
	return p
}

// What is erased is in no column of any table, unpacked, and was there before.
func TestErasingLeavesNoCanary(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.key(t, "workshop", "manage")
	p := g.cut(t, ours, "canaryreference")
	g.as(t, ours, "POST", p.Links["self"]+"/acceptance", `{"booking_reference":"canaryreference"}`).wants(t, "accepting", http.StatusCreated, "")
	g.as(t, staff, "POST", "/v1/outcomes", `{"plan_id":"`+p.ID.String()+`","step":"issued","reported_by":"canaryperson"}`).wants(t, "handing out", http.StatusCreated, "")
	var kept api.Erasure
	g.as(t, ours, "DELETE", "/v1/plans?client_reference=canaryreference", "").json(t, &kept)
	if kept.Plans != 0 || kept.Drawings != 0 || !slices.Contains(kept.Kept, p.ID) {
		t.Errorf("while its stock is handed out: %+v", kept)
	}
	g.as(t, ours, "DELETE", p.Links["drawing"]+"?plans=true", "").wants(t, "its drawing", http.StatusConflict, "already_issued")
	g.as(t, staff, "POST", "/v1/outcomes", `{"plan_id":"`+p.ID.String()+`","step":"done","cutter_min":2,"reported_by":"canaryperson","remark":"canaryremark","spoiled_pieces":[{"copy":1,"reason":"canaryreason"}]}`).wants(t, "reporting", http.StatusCreated, "")

	before := g.held(t)
	for _, c := range canaries() {
		if len(before[c]) == 0 {
			t.Errorf("%s is nowhere while it should be: the search cannot fail", c)
		}
	}
	if !slices.Contains(before["47.11815"], "packed results") || !slices.Contains(before["canaryreference"], "public.idempotency") {
		t.Errorf("before: %v", before)
	}
	var dry, gone api.Erasure
	g.as(t, ours, "DELETE", "/v1/plans?client_reference=canaryreference&dry_run=true", "").json(t, &dry)
	if dry.Plans != 1 || dry.Drawings != 1 || !dry.DryRun || len(g.held(t)) != len(before) {
		t.Errorf("a dry run: %+v", dry)
	}
	g.as(t, ours, "DELETE", "/v1/plans?client_reference=canaryreference", "").json(t, &gone)
	if gone.Plans != 1 || gone.Drawings != 1 || gone.Results < 5 {
		t.Errorf("erased %+v", gone)
	}
	if left := g.held(t); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
	g.as(t, staff, "GET", "/v1/reports/stores.csv", "").wants(t, "the ledger", http.StatusOK, "")
	g.as(t, ours, "DELETE", "/v1/plans", "").wants(t, "naming nothing", http.StatusUnprocessableEntity, "nothing_named")
}

// What two clients share stays for the one who is left, and goes with the last.
func TestErasingLeavesOthersTheirs(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, others, staff := g.key(t, "print", "submit", "read"), g.key(t, "paint", "submit", "read"), g.key(t, "workshop", "manage")
	mine, theirs := g.cut(t, ours, "canaryreference"), g.cut(t, others, "other")
	var gone api.Erasure
	g.as(t, others, "DELETE", "/v1/plans?owner=print", "").json(t, &gone)
	if gone.Plans != 0 {
		t.Fatalf("another erases ours: %+v", gone)
	}
	before := g.as(t, others, "GET", theirs.Links["layout"], "").body
	g.as(t, staff, "DELETE", "/v1/plans?owner=print", "").json(t, &gone)
	if gone.Plans != 1 || gone.Drawings != 1 || gone.Results != 0 {
		t.Errorf("erased %+v", gone)
	}
	g.as(t, ours, "GET", mine.Links["self"], "").wants(t, "what was ours", http.StatusNotFound, "not_found")
	if at := dbtest.Holding(t, g.store.Pool, []byte("canaryreference")); len(at) > 0 {
		t.Errorf("our reference is in %v", at)
	}
	for name, link := range theirs.Links {
		if name != "answers" {
			g.as(t, others, "GET", link, "").wants(t, "their "+name, http.StatusOK, "")
		}
	}
	if after := g.as(t, others, "GET", theirs.Links["layout"], "").body; !bytes.Equal(before, after) {
		t.Error("their layout has changed")
	}
	g.as(t, others, "DELETE", theirs.Links["drawing"], "").wants(t, "a drawing with a plan", http.StatusConflict, "in_use")
	g.as(t, others, "DELETE", theirs.Links["drawing"]+"?plans=true", "").wants(t, "with its plan", http.StatusNoContent, "")
	if left := g.held(t); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
}

// By age goes what is settled and has not changed since, and nothing that is held.
func TestErasingByAge(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	old, held := g.planned(t, ours), g.planned(t, ours)
	g.as(t, ours, "POST", held.Links["self"]+"/acceptance", `{}`).wants(t, "accepting", http.StatusCreated, "")
	if _, err := g.store.Pool.Exec(t.Context(), `update plans set updated = now() - interval '40 days'; update drawings set created = now() - interval '40 days'`); err != nil {
		t.Fatal(err)
	}
	fresh := g.planned(t, ours)
	e := db.Erasable{Client: db.AnyClient, Before: time.Now().AddDate(0, 0, -30)}
	if gone, err := g.queue.EraseAll(t.Context(), e, true); err != nil || gone.Plans != 1 || gone.Drawings != 1 {
		t.Errorf("a dry run: %+v, %v", gone, err)
	}
	if gone, err := g.queue.EraseAll(t.Context(), e, false); err != nil || gone.Plans != 1 || gone.Drawings != 1 {
		t.Errorf("erased %+v, %v", gone, err)
	}
	g.as(t, ours, "GET", old.Links["self"], "").wants(t, "the old one", http.StatusNotFound, "not_found")
	for _, p := range []api.Plan{held, fresh} {
		g.as(t, ours, "GET", p.Links["self"]+"/layout", "").wants(t, "another", http.StatusOK, "")
	}
}
