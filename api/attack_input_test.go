package api_test

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"

	"knifedesk/api"
)

// onTime fails where the next small plan is not worked out within the time that a
// person would wait.
func (d *desk) onTime(t *testing.T) {
	t.Helper()
	began := time.Now()
	body, kind := form(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "client_reference", fmt.Sprint(began.UnixNano()))
	a := d.call(t, "POST", "/v1/plans", body, "Content-Type", kind, "Prefer", "wait=20")
	if a.status != http.StatusOK || !strings.Contains(string(a.body), `"status":"ready"`) {
		t.Errorf("the next plan after %v: %d %.300s", time.Since(began), a.status, a.body)
	}
}

// refusedWell fails where an answer is not a refusal with a code of the request's.
func (a answer) refusedWell(t *testing.T, what string) {
	t.Helper()
	if code := a.code(t); a.status < 400 || a.status >= 500 || code == "" {
		t.Errorf("%s: %d %.300s", what, a.status, a.body)
	}
}

// Whatever stands in a path or a parameter, the answer is a documented code, and
// no header comes of it.
func TestAttackPathsAndParameters(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: -1})
	evil := []string{
		"..%2f..%2f..%2fetc%2fpasswd", "%00", "%0d%0aX-Injected:%20yes", "'%3b%20drop%20table%20plans%3b--", strings.Repeat("a", 3000),
		"%ff%fe", "-1", "1e309", "%7b%7b7*7%7d%7d", "%E2%80%AE",
	}
	for n, x := range targets(t, d.spec) {
		some := []string{evil[n%len(evil)], evil[(n+3)%len(evil)], evil[(n+7)%len(evil)]} // each meets many operations
		for _, bad := range some {
			if at := strings.Index(x.path, "{"); at >= 0 {
				end := at + strings.Index(x.path[at:], "}") + 1
				one := x
				one.path = x.path[:at] + bad + x.path[end:]
				a := one.send(t, d, naming(owned{}, func(string) string { return someID }))
				injected(t, a, x.id+" at "+bad)
				if a.status >= 500 || a.status < 300 && x.method != "GET" && x.method != "DELETE" {
					t.Errorf("%s at %s: %d %.200s", x.id, bad, a.status, a.body)
				}
			}
		}
		x.path = naming(owned{}, func(string) string { return someID }).Replace(x.path)
		for _, p := range x.op.Parameters {
			if p.Value.In != openapi3.ParameterInQuery {
				continue
			}
			for _, bad := range some {
				one := x
				one.path += "?" + p.Value.Name + "=" + bad
				a := one.send(t, d, strings.NewReplacer())
				injected(t, a, x.id+" with "+p.Value.Name+"="+bad)
				if a.status >= 500 {
					t.Errorf("%s with %s=%s: %d %.200s", x.id, p.Value.Name, bad, a.status, a.body)
				}
			}
		}
		if x.open() {
			continue // which look at no parameter
		}
		one := x
		one.path += "?" + url.Values{"nothing\r\nX-Injected: yes": {"1"}}.Encode()
		a := one.send(t, d, strings.NewReplacer())
		injected(t, a, x.id)
		a.wants(t, x.id+" with a parameter that it does not have", http.StatusUnprocessableEntity, "unknown_parameter")
	}
	d.onTime(t)
}

func injected(t *testing.T, a answer, what string) {
	t.Helper()
	if a.header.Get("X-Injected") != "" {
		t.Errorf("%s: a header is injected", what)
	}
}

// Whatever stands in a header, the answer is what it is without, or a documented
// code; and what is passed on to headers of the answer is plain.
func TestAttackHeaders(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: -1})
	long := strings.Repeat("x", 8000)
	for name, values := range map[string][]string{
		"X-Request-ID": {"a b", "<script>", long, "é"}, "Prefer": {"wait=99999999999999999999", "wait=-1", "wait=1e9", "wait", long},
		"If-None-Match": {strings.Repeat(`"a", `, 1500)}, "Accept": {"text/html;q=2", strings.Repeat("a/b,", 1500), "*", ""}, "Range": {"bytes=0-1", "bytes=-99999999999999999999"},
		"Last-Event-ID": {"-1", strings.Repeat("9", 90)}, "traceparent": {"00-" + long, "zz"}, "Origin": {d.URL}, "Content-Length": {"0"},
		"X-HTTP-Method-Override": {"DELETE"}, "X-Original-URL": {"/v1/keys"}, "Cookie": {long}, "Transfer-Encoding": {"identity"},
	} {
		for _, v := range values {
			a := d.call(t, "GET", "/v1/plans", nil, name, v)
			if a.status >= 500 {
				t.Errorf("%s: %.40s: %d %.200s", name, v, a.status, a.body)
			}
			if id := a.header.Get("X-Request-ID"); len(id) > 128 || strings.ContainsAny(id, " <é") {
				t.Errorf("the id of the request is %q", id)
			}
		}
	}
	for _, key := range []string{strings.Repeat("k", 201), "é", " "} {
		d.call(t, "POST", "/v1/drawings", []byte(plate), "Content-Type", "image/svg+xml", "Idempotency-Key", key)
	}
	for _, name := range []string{"Content-Type", "Idempotency-Key"} {
		r, err := http.NewRequestWithContext(t.Context(), "POST", d.URL+"/v1/drawings", strings.NewReader(plate))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "image/svg+xml")
		r.Header[name] = []string{"image/svg+xml", "another"}
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		if resp.StatusCode != http.StatusUnprocessableEntity {
			t.Errorf("%s twice: %s", name, resp.Status)
		}
	}
	d.onTime(t)
}

// Whatever comes as the JSON of any operation, it is refused with a code, and what
// is large is not kept.
func TestAttackBodies(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: -1})
	names := naming(owned{}, func(string) string { return someID })
	for _, x := range targets(t, d.spec) {
		if x.kind != "application/json" {
			continue
		}
		first := strings.SplitN(x.body, ":", 2)[0] // {"name"
		for what, body := range map[string]string{
			"nothing": "", "half": x.body[:len(x.body)/2], "a list": "[" + x.body + "]", "a text": `"{}"`, "null": "null", "two": x.body + x.body,
			"deep": strings.Repeat(`{"a":`, 500) + "1" + strings.Repeat("}", 500), "twice": strings.TrimSuffix(x.body, "}") + "," + strings.TrimPrefix(first, "{") + `:1}`,
			"an endless number": strings.TrimSuffix(x.body, "}") + `,"nothing":1e999}`, "another field": strings.TrimSuffix(x.body, "}") + `,"__proto__":{"admin":true}}`,
			"a zero byte": first + `:"a\u0000b"}`, "half a character": first + `:"\ud800"}`, "no UTF-8": first + ":\"\xff\"}", "a mark": "\ufeff" + x.body,
		} {
			one := x
			one.body = body
			one.send(t, d, names).refusedWell(t, x.id+" with "+what)
		}
		for header, value := range map[string]string{"Content-Type": "application/xml", "Content-Encoding": "gzip"} {
			x.send(t, d, names, header, value).wants(t, x.id+" as "+value, http.StatusUnsupportedMediaType, map[string]string{"Content-Type": "unsupported_media_type", "Content-Encoding": "unsupported_encoding"}[header])
		}
	}
	large := append([]byte(`{"a":"`), append(bytes.Repeat([]byte("a"), 1<<20), `"}`...)...)
	for _, path := range []string{"/v1/plans", "/v1/drawings"} {
		kind := map[string]string{"/v1/plans": "application/json", "/v1/drawings": "image/svg+xml"}[path]
		d.call(t, "POST", path, large, "Content-Type", kind).wants(t, "a large body to "+path, http.StatusRequestEntityTooLarge, "too_large")
	}
	d.onTime(t)
}

// A number that is all but 0, as an offset of the blade, left no number where the tip
// goes: it is refused, and what is small and still measures something is planned with.
func TestAttackByANumber(t *testing.T) {
	d := open(t)
	machine := d.call(t, "GET", "/v1/machines/wide-610", nil).body
	for offset, taken := range map[string]bool{"1e-320": false, "-1e-320": false, "9e-13": false, "1e-400": true, "1e-9": true, "0": true} {
		body := regexp.MustCompile(`"offset_mm":[0-9.]+`).ReplaceAll(machine, []byte(`"offset_mm":`+offset))
		a := d.call(t, "PUT", "/v1/machines/wide-610", body, "Content-Type", "application/json")
		if !taken {
			a.wants(t, offset, http.StatusUnprocessableEntity, "invalid_body")
			continue
		}
		a.wants(t, offset, http.StatusOK, "")
		d.onTime(t)
	}
}

// Two hundred senders that never end, and a flood of questions, plans, streams and
// waits: each is answered, bounded where it has a bound, and the next small plan
// is on time.
func TestAttackFloods(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: -1, Waiting: api.Bound{Client: 20, All: 20}, Streams: api.Bound{Client: 20, All: 20}, Queued: api.Bound{Client: 30, All: 30}})
	for range 200 { // slow bodies
		conn, err := net.Dial("tcp", d.Listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		fmt.Fprintf(conn, "POST /v1/drawings HTTP/1.1\r\nHost: %s\r\nContent-Type: image/svg+xml\r\nContent-Length: 1000000\r\n\r\n<svg", d.Listener.Addr())
	}
	d.onTime(t)
	plan := d.planned(t)
	var all sync.WaitGroup
	var mu sync.Mutex
	seen := map[string]int{}
	for n := range 150 {
		all.Go(func() {
			req, err := http.NewRequestWithContext(t.Context(), "GET", d.URL+plan+[]string{"/events?follow=acceptance", "", "/previews/layout.svg"}[n%3], nil)
			if err != nil {
				t.Error(err)
				return
			}
			req.Header.Set("Prefer", "wait=1")
			resp, err := d.Client().Do(req)
			if err != nil {
				t.Error(err)
				return
			}
			defer resp.Body.Close()
			_, _ = io.Copy(io.Discard, io.LimitReader(resp.Body, 1<<20))
			mu.Lock()
			defer mu.Unlock()
			seen[resp.Status[:3]]++
		})
	}
	all.Wait()
	for status := range seen {
		if !slices.Contains([]string{"200", "429"}, status) {
			t.Errorf("a flood is answered %v", seen)
		}
	}
	d.onTime(t)
}

// planned has a plate planned and returns where the plan is.
func (d *desk) planned(t *testing.T) string {
	t.Helper()
	return d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610").Links["self"]
}
