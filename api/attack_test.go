package api_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	gocmp "github.com/google/go-cmp/cmp"

	"knifedesk/api"
)

// The attack suite (bash .ci/attack) goes through the operations of the
// specification, so that one that is added is attacked by itself. What it tries is
// common practice in testing APIs (OWASP API Security Top 10, 2023: API1, API5,
// API8), no more.

// target is one operation with what a request of it needs to get past the checks
// of its form.
type target struct {
	id, method, path string
	body             string
	kind             string
	security         openapi3.SecurityRequirements
	op               *openapi3.Operation
}

// targets lists all operations, with an example of the specification as the body.
func targets(t *testing.T, spec *openapi3.T) (all []target) {
	t.Helper()
	for _, path := range slices.Sorted(maps.Keys(spec.Paths.Map())) {
		item := spec.Paths.Value(path)
		for method, op := range item.Operations() {
			one := target{id: op.OperationID, method: method, path: path, security: spec.Security, op: op}
			for _, p := range slices.Concat(item.Parameters, op.Parameters) {
				if p.Value.In == openapi3.ParameterInPath && len(p.Value.Schema.Value.Enum) > 0 {
					one.path = strings.Replace(one.path, "{"+p.Value.Name+"}", p.Value.Schema.Value.Enum[0].(string), 1)
				}
			}
			if op.Security != nil {
				one.security = *op.Security
			}
			if op.RequestBody != nil {
				one.kind, one.body = "image/svg+xml", plate
				if media := op.RequestBody.Value.Content["application/json"]; media != nil {
					text, err := json.Marshal(media.Example)
					if err != nil {
						t.Fatal(err)
					}
					one.kind, one.body = "application/json", string(text)
				}
			}
			all = append(all, one)
		}
	}
	if len(all) < 50 {
		t.Fatalf("only %d operations are attacked", len(all))
	}
	return all
}

// send sends the request of a target with the names in its path and body replaced.
func (x target) send(t *testing.T, d *desk, names *strings.Replacer, headers ...string) answer {
	t.Helper()
	if x.kind != "" {
		headers = append([]string{"Content-Type", x.kind}, headers...)
	}
	return d.call(t, x.method, names.Replace(x.path), []byte(names.Replace(x.body)), headers...)
}

// takes says whether one of the ways in is open to a means, with a scope.
func (x target) takes(means, scope string) bool {
	for _, way := range x.security {
		if scopes, named := way[means]; named && (means != "key" || scope == "manage" || slices.Contains(scopes, scope)) {
			return true
		}
	}
	return false
}

// open says whether anybody may send it.
func (x target) open() bool { return len(x.security) == 0 }

// code is that of a problem, "" of an answer that is none.
func (a answer) code(t *testing.T) string {
	t.Helper()
	if a.status < 400 {
		return ""
	}
	var p api.Problem
	a.json(t, &p)
	return p.Code
}

var ids = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}`)

// owned is what a client has; a set is named by its id, and has the member "plate".
type owned struct {
	plan api.Plan
	set  string
}

// naming replaces what stands for an id in paths and examples. Test cuts, as postings
// and webhooks, are of the workshop and of no client.
func naming(o owned, with func(string) string) *strings.Replacer {
	plan, drawing := with(o.plan.ID.String()), with(o.plan.DrawingID.String())
	return strings.NewReplacer("{plan_id}", plan, "{drawing_id}", drawing,
		"0b6f2a52-8d0e-4c39-9d5e-2f5a3b8f7c10", plan, "3c1d1a52-8d0e-4c39-9d5e-2f5a3b8f7c10", drawing,
		"{class_set_id}", with(cmp.Or(o.set, someID)), "/loads/{load}/{file}", "/loads/1/layout.svg", "{reference}", "plate", "{load}", "1",
		"{posting_id}", someID, "{key_id}", someID, "{webhook_id}", someID, "{delivery_id}", someID, "{trial_id}", someID,
		"{item_id}", "film-removable-610", "{stock_id}", "film-removable-610", "{machine_id}", "wide-610", "{file}", "load-1.dxf", "{replay}", "load-1.json", "{question_id}", "size%2Fsize")
}

// What belongs to another client answers as what is not there, to the letter: so
// nobody learns by trying which ids there are.
func TestAttackOtherClientsIDs(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	victim := g.key(t, "victim", "submit", "read")
	set := g.classSet(t, victim, "")
	theirs := owned{g.planned(t, victim), strings.TrimPrefix(set, "/v1/class-sets/")}
	g.adds(t, victim, set, []string{"Prefer", "wait=30"}, "plate.svg", plate).wants(t, "a member", http.StatusOK, "")
	was := g.set(t, victim, set)
	ours := g.key(t, "attacker", "submit", "read")
	token := g.token(t, ours, `{}`)
	own := g.call(t, "POST", "/v1/drawings", []byte(plate), "Content-Type", "image/svg+xml", "Authorization", token)
	capability := "Bearer " + own.header.Get("Submission-Capability")
	same := func(id string) string { return id }
	nobody := func(string) string { return someID }
	strip := func(a answer) string { return ids.ReplaceAllString(string(a.body), "") }
	for _, x := range targets(t, g.spec) {
		if !strings.Contains(x.path, "{plan_id}") && !strings.Contains(x.path, "{drawing_id}") && !strings.Contains(x.path, "{class_set_id}") && x.id != "createPlan" {
			continue
		}
		for who, bearer := range map[string]string{"a key": ours, "a capability": capability} {
			got := x.send(t, g.desk, naming(theirs, same), "Authorization", bearer)
			want := x.send(t, g.desk, naming(theirs, nobody), "Authorization", bearer)
			if code := got.code(t); got.status != want.status || strip(got) != strip(want) || code != "not_found" && code != "scope_missing" && code != "not_with_token" {
				t.Errorf("%s of another client with %s: %d %s, of nobody %d %s", x.id, who, got.status, got.body, want.status, want.body)
			}
		}
	}
	if diff := gocmp.Diff(was, g.set(t, victim, set)); diff != "" || len(was.Loads) != 1 {
		t.Errorf("the set that was attacked, with %d loads: %s", len(was.Loads), diff)
	}
	if p := g.as(t, victim, "GET", theirs.plan.Links["self"], ""); p.status != http.StatusOK || !strings.Contains(string(p.body), `"status":"ready"`) {
		t.Errorf("the plan that was attacked: %d %s", p.status, p.body)
	}
}

// Nobody gets further than the specification says, on any path: not by a key with
// other scopes, a token, a capability, a link to something else, and nothing that
// is forged, expired or revoked.
func TestAttackScopes(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	owner := g.key(t, "print", "submit", "read")
	p := g.planned(t, owner)
	var shared api.SharedLinks
	g.as(t, owner, "POST", p.Links["self"]+"/links", `{"expires_in_min":5}`).json(t, &shared)
	_, link, _ := strings.Cut(shared.Links["worksheet"], "?")
	token := g.token(t, owner, `{}`)
	spent := g.token(t, owner, `{}`)
	capability := "Bearer " + g.call(t, "POST", "/v1/drawings", []byte(plate), "Content-Type", "image/svg+xml", "Authorization", spent).header.Get("Submission-Capability")
	forged := forgeries(t, g, owner, token, capability)
	ways := map[string]struct{ bearer, scope, code string }{
		"key to read": {g.key(t, "reader", "read"), "read", "scope_missing"}, "key to submit": {g.key(t, "sender", "submit"), "submit", "scope_missing"},
		"token": {token, "", "not_with_token"}, "capability": {capability, "", "not_with_token"},
	}
	names := naming(owned{plan: p}, func(string) string { return someID })
	for n, x := range targets(t, g.spec) {
		if x.open() {
			continue
		}
		for means, way := range ways {
			kind, _, _ := strings.Cut(means, " ")
			if x.takes(kind, way.scope) {
				continue // what it may do is tested elsewhere
			}
			x.send(t, g.desk, names, "Authorization", way.bearer).wants(t, x.id+" with a "+means, http.StatusForbidden, way.code)
		}
		for i := range 3 { // each forgery meets many operations
			what := slices.Sorted(maps.Keys(forged))[(n+4*i)%len(forged)]
			bearer := forged[what]
			x.send(t, g.desk, names, "Authorization", bearer).wants(t, x.id+" with "+what, http.StatusUnauthorized, "key_unknown")
		}
		linked := x
		linked.path += "?" + link // of another path
		linked.send(t, g.desk, names).wants(t, x.id+" with a link to something else", http.StatusForbidden, "link_broken")
	}
}

// forgeries are secrets that look right.
func forgeries(t *testing.T, g guarded, key, token, capability string) map[string]string {
	t.Helper()
	end := func(s string) string { return s[:len(s)-6] + strings.Repeat("A", 6) }
	as := func(s, kind string) string { return "Bearer " + kind + strings.TrimPrefix(s, "Bearer ")[4:] }
	return map[string]string{
		"a key with another end": end(key), "a token with another end": end(token), "a capability with another end": end(capability),
		"a token as a key": as(token, "kdk_"), "a capability as a key": as(capability, "kdk_"), "a capability as a token": as(capability, "kdt_"),
		"a key as a capability": as(key, "kdc_"), "the scheme of another": "Basic " + strings.TrimPrefix(key, "Bearer "), "two keys": key + ", " + token,
		"an end that is cut off": key[:len(key)-1], "SQL": "Bearer kdk_' or '1'='1",
	}
}

// A page of another site, or one that has bent its host's name to this machine,
// gets nothing from a service that needs no key (DNS rebinding; RFC 9110, 15.5.20).
func TestAttackFromOtherSites(t *testing.T) {
	d := open(t)
	names := naming(owned{}, func(string) string { return someID })
	for _, x := range targets(t, d.spec) {
		if x.open() {
			continue
		}
		x.send(t, d, names, "Host", "rebound.example.org").wants(t, x.id+" by another host's name", http.StatusMisdirectedRequest, "wrong_host")
		for _, origin := range []string{"https://other.example.org", "null", "http://127.0.0.1:1", "http://localhost.example.org"} {
			x.send(t, d, names, "Origin", origin).wants(t, x.id+" from "+origin, http.StatusForbidden, "wrong_origin")
		}
	}
	if a := d.call(t, "GET", "/v1/stocks", nil); a.header.Get("Access-Control-Allow-Origin") != "" {
		t.Errorf("others may read: %v", a.header)
	}
}

// leak is what no answer may say: how the service is built and where it lies.
var leak = regexp.MustCompile(`(?i)SQLSTATE|pgx|\bpq:|postgres|goroutine|runtime error|nil pointer|panic|\.go:\d|/root/|/tmp/|/home/|/usr/|knifedesk/(api|jobs|db|geometry)|strconv\.|json: |multipart: |http: |unexpected EOF|\bnull value\b|relation "`)

// leaks returns what an answer that is an error says too much of.
func leaks(status int, body []byte) error {
	if found := leak.Find(body); status >= http.StatusBadRequest && found != nil {
		return fmt.Errorf("the answer leaks %q: %s", found, body)
	}
	return nil
}
