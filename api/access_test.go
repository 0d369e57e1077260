package api_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"knifedesk/api"
	"knifedesk/api/keyring"
	"knifedesk/db"
	"knifedesk/jobs/workshop"
)

// guarded is a service that lets nobody in without a key.
type guarded struct{ *desk }

func openGuarded(t *testing.T, cfg api.Config) guarded {
	t.Helper()
	d := start(t, cfg)
	d.seed(t, workshop.Example())
	return guarded{d}
}

// key makes a key for an owner and returns the header that shows it.
func (g guarded) key(t *testing.T, owner string, scopes ...string) string {
	t.Helper()
	return g.keyWith(t, keyring.Order{Owner: owner, Scopes: scopes})
}

func (g guarded) keyWith(t *testing.T, o keyring.Order) string {
	t.Helper()
	_, text, err := keyring.Create(t.Context(), g.store, o)
	if err != nil {
		t.Fatal(err)
	}
	return "Bearer " + text
}

// as calls with an Authorization header.
func (g guarded) as(t *testing.T, bearer, method, path, body string, headers ...string) answer {
	t.Helper()
	if body != "" {
		headers = append([]string{"Content-Type", "application/json"}, headers...)
	}
	return g.call(t, method, path, []byte(body), append(headers, "Authorization", bearer)...)
}

// wants says of an answer what it should have been: a status, and the code of a
// problem.
func (a answer) wants(t *testing.T, what string, status int, code string) {
	t.Helper()
	var p api.Problem
	if a.status >= 400 {
		a.json(t, &p)
	}
	if a.status != status || p.Code != code {
		t.Errorf("%s: %d %q, want %d %q: %.200s", what, a.status, p.Code, status, code, a.body)
	}
}

// sent sends a plate for the holder of a key and returns where it is.
func (g guarded) sent(t *testing.T, bearer string) string {
	t.Helper()
	a := g.call(t, "POST", "/v1/drawings", []byte(plate), "Authorization", bearer, "Content-Type", "image/svg+xml")
	if a.status != http.StatusCreated {
		t.Fatalf("%d %s", a.status, a.body)
	}
	return a.header.Get("Location")
}

// planned has a plate planned for the holder of a key.
func (g guarded) planned(t *testing.T, bearer string) api.Plan {
	t.Helper()
	body, kind := form(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	a := g.call(t, "POST", "/v1/plans", body, "Authorization", bearer, "Content-Type", kind, "Prefer", "wait=30")
	var p api.Plan
	a.json(t, &p)
	if a.status != http.StatusOK || p.Status != "ready" {
		t.Fatalf("%d %s", a.status, a.body)
	}
	return p
}

// Every operation of the specification is closed to who shows nothing, but for
// the four that say how the service is; and to keys without the scope.
func TestEveryOperationIsGuarded(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	submit := g.key(t, "form", "submit")
	open := map[string]bool{"getHealth": true, "getReadiness": true, "getSpecification": true, "getDocs": true}
	for path, item := range g.spec.Paths.Map() {
		for method, op := range item.Operations() {
			bare := g.call(t, method, filled.Replace(path), nil)
			if open[op.OperationID] {
				bare.wants(t, op.OperationID, http.StatusOK, "")
				continue
			}
			bare.wants(t, op.OperationID, http.StatusUnauthorized, "key_missing")
			if bare.header.Get("WWW-Authenticate") == "" {
				t.Errorf("%s: a 401 without WWW-Authenticate (RFC 9110, 11.6.1)", op.OperationID)
			}
			manages := op.Security == nil
			if manages {
				g.as(t, submit, method, filled.Replace(path), "").wants(t, op.OperationID+" with submit", http.StatusForbidden, "scope_missing")
			}
		}
	}
	// What keeps the workshop's data, its stores and the keys needs manage.
	for _, op := range []string{"putStock", "putMachine", "putPriceList", "receive", "getPosting", "reportOutcome", "reversePosting", "getStoresReport", "putStoreRules", "listLevels", "listKeys", "createKey", "rotateKey", "revokeKey", "getMetrics", "listWork"} {
		found := false
		for _, item := range g.spec.Paths.Map() {
			for _, o := range item.Operations() {
				found = found || o.OperationID == op && o.Security == nil
			}
		}
		if !found {
			t.Errorf("%s does not need manage", op)
		}
	}
	if a := g.call(t, "GET", "/", nil); a.status != http.StatusOK {
		t.Errorf("the page answers %d", a.status)
	}
}

func TestAClientSeesItsOwn(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, others, staff := g.key(t, "print", "submit", "read"), g.key(t, "paint", "submit", "read"), g.key(t, "workshop", "manage")
	drawing, p := g.sent(t, ours), g.planned(t, ours)
	if p.Owner != "print" {
		t.Errorf("the plan belongs to %q", p.Owner)
	}
	self := p.Links["self"]
	order := func(drawing string) string {
		return `{"stock_id":"film-removable-610","drawing_id":"` + strings.TrimPrefix(drawing, "/v1/drawings/") + `"}`
	}
	for what, call := range map[string][3]string{
		"drawing": {"GET", drawing}, "its picture": {"GET", drawing + "/preview.svg"}, "erasing it": {"DELETE", drawing},
		"plan": {"GET", self}, "a part": {"GET", self + "/layout"}, "a picture": {"GET", self + "/previews/size.svg"}, "a file": {"GET", self + "/files/load-1.dxf"},
		"worksheet": {"GET", self + "/worksheet.pdf"}, "the mended drawing": {"GET", self + "/mended.svg"}, "the proof": {"GET", self + "/proof.pdf"}, "events": {"GET", self + "/events"}, "cancelling": {"DELETE", self}, "erasing": {"DELETE", self + "?erase=true"},
		"answering": {"POST", self + "/answers", `{"answers":{"a/b":{"answer":"c"}}}`}, "accepting": {"POST", self + "/acceptance", `{}`},
		"links": {"POST", self + "/links", `{}`}, "a plan of it": {"POST", "/v1/plans", order(drawing)},
	} {
		g.as(t, others, call[0], call[1], call[2]).wants(t, what+" of another", http.StatusNotFound, "not_found")
	}
	g.as(t, others, "POST", "/v1/plans", strings.TrimSuffix(order(g.sent(t, others)), "}")+`,"supersedes":"`+p.ID.String()+`"}`).wants(t, "superseding another's", http.StatusNotFound, "not_found")
	owners := func(bearer, query string) (all []string) {
		var page struct{ Plans []api.PlanHead }
		g.as(t, bearer, "GET", "/v1/plans"+query, "").json(t, &page)
		for _, p := range page.Plans {
			all = append(all, p.Owner)
		}
		return all
	}
	if got := owners(others, ""); len(got) != 0 {
		t.Errorf("another's list: %v", got)
	}
	if got := owners(others, "?owner=print"); len(got) != 0 {
		t.Errorf("another's list of ours: %v", got)
	}
	g.planned(t, others)
	if got := owners(staff, ""); len(got) != 2 {
		t.Errorf("the staff's list: %v", got)
	}
	if got := owners(staff, "?owner=print"); len(got) != 1 || got[0] != "print" {
		t.Errorf("the staff's list of print: %v", got)
	}
	// What the staff orders of a client's drawing is the client's.
	a := g.as(t, staff, "POST", "/v1/plans", order(drawing), "Prefer", "wait=30")
	a.wants(t, "the staff's order", http.StatusOK, "")
	g.as(t, ours, "GET", a.header.Get("Location"), "").wants(t, "what the staff ordered", http.StatusOK, "")
	g.as(t, staff, "GET", self+"/worksheet.pdf", "").wants(t, "the staff's look", http.StatusOK, "")
}

func TestKeysOverHTTP(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff := g.key(t, "workshop", "manage")
	a := g.as(t, staff, "POST", "/v1/keys", `{"owner":"print","scopes":["submit","read"],"stock_id":"film-removable-610","requests_per_minute":7,"name":"form"}`, "Idempotency-Key", "one")
	a.wants(t, "a key", http.StatusCreated, "")
	var k api.NewKey
	a.json(t, &k)
	mine := "Bearer " + k.Key
	kept := func() (n int) {
		if err := g.store.Pool.QueryRow(t.Context(), `select count(*) from idempotency`).Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	if kept() != 0 {
		t.Error("an answer with a key is kept")
	}
	look := g.as(t, mine, "GET", "/v1/stocks", "")
	look.wants(t, "the new key", http.StatusOK, "")
	if got := look.header.Get("RateLimit-Policy"); got != `"requests";q=7;w=60` {
		t.Errorf("its limit: %s", got)
	}
	list := g.as(t, staff, "GET", "/v1/keys", "")
	if strings.Contains(string(list.body), k.Key[10:]) || !strings.Contains(string(list.body), `"used_at"`) {
		t.Errorf("the list: %s", list.body)
	}
	var turned api.NewKey
	g.as(t, staff, "POST", "/v1/keys/"+k.ID.String()+"/rotation", `{}`).json(t, &turned)
	g.as(t, mine, "GET", "/v1/stocks", "").wants(t, "the old key in its grace", http.StatusOK, "")
	g.as(t, "Bearer "+turned.Key, "GET", "/v1/stocks", "").wants(t, "the rotated key", http.StatusOK, "")
	r, err := http.NewRequestWithContext(t.Context(), "GET", g.URL+"/v1/stocks", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header["Authorization"] = []string{"Bearer " + turned.Key, staff}
	both, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	if both.Body.Close(); both.StatusCode != http.StatusUnprocessableEntity {
		t.Errorf("two keys at once: %s", both.Status)
	}
	g.as(t, staff, "POST", "/v1/keys/"+k.ID.String()+"/rotation", `{"grace_min":0}`).json(t, &turned)
	g.as(t, mine, "GET", "/v1/stocks", "").wants(t, "a key two rotations old", http.StatusUnauthorized, "key_unknown")
	g.as(t, staff, "DELETE", "/v1/keys/"+k.ID.String(), "").wants(t, "revoking", http.StatusNoContent, "")
	g.as(t, "Bearer "+turned.Key, "GET", "/v1/stocks", "").wants(t, "a revoked key", http.StatusUnauthorized, "key_unknown")
	g.as(t, staff, "POST", "/v1/keys/"+k.ID.String()+"/rotation", `{}`).wants(t, "rotating a revoked key", http.StatusNotFound, "not_found")

	for what, bearer := range map[string]string{
		"no key": "Bearer", "another word": "Bearer hello", "another scheme": "Basic " + k.Key, "a key with one letter changed": mine[:len(mine)-5] + "AAAAA",
		"a key of another kind": strings.Replace(mine, "kdk_", "kdt_", 1), "cut off": mine[:len(mine)-1],
	} {
		g.as(t, bearer, "GET", "/v1/stocks", "").wants(t, what, http.StatusUnauthorized, "key_unknown")
	}
	soon := time.Now().Add(300 * time.Millisecond)
	brief := g.keyWith(t, keyring.Order{Owner: "print", Scopes: []string{"read"}, Expires: &soon})
	g.as(t, brief, "GET", "/v1/stocks", "").wants(t, "before its end", http.StatusOK, "")
	time.Sleep(time.Until(soon))
	g.as(t, brief, "GET", "/v1/stocks", "").wants(t, "after its end", http.StatusUnauthorized, "key_expired")
	for body, field := range map[string]string{
		`{"owner":"print","scopes":["read"],"stock_id":"tin"}`: "stock_id", `{"owner":"*","scopes":["read"]}`: "owner",
		`{"owner":"print","scopes":["submit"],"frame":"as drawn"}`:                "frame", // else each of the course is refused for it
		`{"owner":"print","scopes":["read"],"expires_at":"2020-01-01T00:00:00Z"}`: "expires_at",
	} {
		a := g.as(t, staff, "POST", "/v1/keys", body)
		a.wants(t, body, http.StatusUnprocessableEntity, "invalid_body")
		var p api.Problem
		if a.json(t, &p); p.Field != field {
			t.Errorf("%s: the field is %q", body, p.Field)
		}
	}
}

// What a course decided counts as said by the caller, and only where the caller
// says nothing.
func TestDefaultsOfAKeyCountAsSaid(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	course := g.keyWith(t, keyring.Order{Owner: "print", Scopes: []string{"submit", "read"}, Defaults: db.Defaults{Stock: "card-220-a4", Convention: "orrin", Frame: "A4"}})
	plain := g.key(t, "paint", "submit", "read")
	// A frame of 210 × 297 units in a drawing that says points: the frame decides.
	framed := `<svg xmlns="http://www.w3.org/2000/svg" width="210pt" height="297pt" viewBox="0 0 210 297"><g id="PAGE" fill="none" stroke="#909090"><rect width="210" height="297"/></g>
<g id="CUT" fill="none" stroke="#007c91"><rect x="30" y="40" width="120" height="70"/></g></svg>`
	plan := func(bearer string, fields ...string) (answer, api.Plan) {
		body, kind := form(t, "framed.svg", []byte(framed), fields...)
		a := g.call(t, "POST", "/v1/plans", body, "Authorization", bearer, "Content-Type", kind, "Prefer", "wait=30")
		var p api.Plan
		if a.status == http.StatusOK {
			a.json(t, &p)
		}
		return a, p
	}
	said, want := plan(plain, "stock", "card-220-a4", "convention", "orrin", "frame", "A4")
	said.wants(t, "all said", http.StatusOK, "")
	got, have := plan(course)
	got.wants(t, "nothing said", http.StatusOK, "")
	if have.StockID != "card-220-a4" || have.Size == nil || want.Size == nil || *have.Size != *want.Size {
		t.Errorf("with the defaults %+v of stock %s, said %+v", have.Size, have.StockID, want.Size)
	}
	if _, p := plan(course, "stock", "film-removable-610"); p.StockID != "film-removable-610" {
		t.Errorf("the caller's own stock gave way to %q", p.StockID)
	}
	a, _ := plan(plain)
	a.wants(t, "no stock at all", http.StatusUnprocessableEntity, "invalid_choice")
}

func TestEachKeyHasItsOwnLimit(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: 50})
	few := g.keyWith(t, keyring.Order{Owner: "print", Scopes: []string{"read"}, PerMinute: 3})
	other := g.keyWith(t, keyring.Order{Owner: "paint", Scopes: []string{"read"}, PerMinute: 3})
	for range 3 {
		g.as(t, few, "GET", "/v1/stocks", "").wants(t, "within the limit", http.StatusOK, "")
	}
	a := g.as(t, few, "GET", "/v1/stocks", "")
	a.wants(t, "past the limit", http.StatusTooManyRequests, "too_many_requests")
	if a.header.Get("Retry-After") == "" || !strings.HasPrefix(a.header.Get("RateLimit"), `"requests";r=0;t=`) {
		t.Errorf("it says %v", a.header)
	}
	g.as(t, other, "GET", "/v1/stocks", "").wants(t, "another key from the same address", http.StatusOK, "")
}

// accessEndpoints calls what is about keys without one, from this machine.
func accessEndpoints(t *testing.T, g guarded) {
	asJSON := []string{"Content-Type", "application/json"}
	var k api.NewKey
	g.call(t, "POST", "/v1/keys", []byte(`{"owner":"print","scopes":["submit","read"]}`), asJSON...).json(t, &k)
	g.call(t, "GET", "/v1/keys", nil).wants(t, "the keys", http.StatusOK, "")
	g.call(t, "POST", "/v1/tokens", []byte(`{}`), asJSON...).wants(t, "a token", http.StatusCreated, "")
	p := g.planned(t, "Bearer "+k.Key)
	g.call(t, "DELETE", "/v1/plans?owner=print&dry_run=true", nil).wants(t, "what would be erased", http.StatusOK, "")
	g.call(t, "POST", p.Links["self"]+"/links", []byte(`{}`), asJSON...).wants(t, "links", http.StatusOK, "")
	var hook api.NewWebhook
	g.call(t, "POST", "/v1/webhooks", []byte(`{"url":"http://192.0.2.1/"}`), asJSON...).json(t, &hook)
	where := "/v1/webhooks/" + hook.ID.String()
	g.call(t, "GET", "/v1/webhooks", nil).wants(t, "the webhooks", http.StatusOK, "")
	g.call(t, "GET", where+"/deliveries", nil).wants(t, "its deliveries", http.StatusOK, "")
	g.call(t, "POST", where+"/deliveries/"+someID+"/resend", nil).wants(t, "resending what is not there", http.StatusNotFound, "not_found")
	g.call(t, "DELETE", where, nil).wants(t, "dropping it", http.StatusNoContent, "")
	g.call(t, "POST", "/v1/keys/"+k.ID.String()+"/rotation", []byte(`{}`), asJSON...).wants(t, "rotating", http.StatusOK, "")
	g.call(t, "DELETE", "/v1/keys/"+k.ID.String(), nil).wants(t, "revoking", http.StatusNoContent, "")
}
