package api_test

import (
	"net/http"
	"strings"
	"sync"
	"testing"

	"knifedesk/api"
)

// Every PUT of the specification keeps an edit from being lost (RFC 9110, 13.1):
// what has changed since it was read is not written over.
func TestEveryPutHoldsIfMatch(t *testing.T) {
	d := open(t)
	bodies := map[string]string{"/v1/levels/{item_id}": `{"reorder_at": 5}`, // where it is not what a GET shows
		"/v1/calibration":      `{"use":"start_values"}`,
		"/v1/blades/{item_id}": `{"id":"b12","machine_id":"wide-610","blade_id":"fine-45","work":"film","offset_mm":0.27,"fitted_on":"2031-07-04"}`}
	d.call(t, "PUT", "/v1/blades/b12", []byte(bodies["/v1/blades/{item_id}"]), "Content-Type", "application/json").wants(t, "a blade", http.StatusOK, "")
	fill := map[string]string{
		"/v1/blades/{item_id}": "b12",
		"/v1/stocks/{item_id}": "film-removable-610", "/v1/machines/{item_id}": "wide-610", "/v1/settings/{item_id}": "removable_film-kiss_cut",
		"/v1/conventions/{item_id}": "orrin", "/v1/price-lists/{item_id}": "orrin", "/v1/levels/{item_id}": "film-removable-610",
	}
	bodies["/v1/class-sets/{class_set_id}/loads/{load}"] = `{"state":"issued"}`
	set := guarded{d}.classSet(t, "", "")
	guarded{d}.adds(t, "", set, []string{"Prefer", "wait=30"}, "plate.svg", plate).wants(t, "a member", http.StatusOK, "")
	for path, item := range d.spec.Paths.Map() {
		if item.Put == nil {
			continue
		}
		t.Run(path, func(t *testing.T) {
			at := strings.NewReplacer("{item_id}", fill[path], "/v1/class-sets/{class_set_id}", set, "{load}", "1").Replace(path)
			from, _, _ := strings.Cut(at, "/loads/") // which are read with their set
			put := func(body string, headers ...string) answer {
				return d.call(t, "PUT", at, []byte(body), append(headers, "Content-Type", "application/json")...)
			}
			read := d.call(t, "GET", from, nil)
			read.wants(t, "reading it", http.StatusOK, "")
			body := string(read.body)
			if other := bodies[path]; other != "" {
				body = other
			}
			tag := read.header.Get("ETag")
			put(body, "If-Match", `"another"`).wants(t, "a tag that is old", http.StatusPreconditionFailed, "changed_since")
			put(body, "If-Match", "W/"+tag).wants(t, "a weak tag", http.StatusPreconditionFailed, "changed_since")
			put(body, "If-Match", "").wants(t, "a tag that is empty", http.StatusUnprocessableEntity, "invalid_parameter")
			put(body, "If-None-Match", "*").wants(t, "only where nothing is", http.StatusPreconditionFailed, "changed_since")
			stored := put(body, "If-Match", `"another", `+tag)
			stored.wants(t, "the tag that was read", http.StatusOK, "")
			if now := d.call(t, "GET", from, nil); stored.header.Get("ETag") != now.header.Get("ETag") {
				t.Errorf("stored as %s, read as %s", stored.header.Get("ETag"), now.header.Get("ETag"))
			}
			put(body, "If-Match", "*").wants(t, "whatever is there", http.StatusOK, "")
			put(body).wants(t, "without a condition", http.StatusOK, "")
		})
	}
	nothing := d.call(t, "GET", "/v1/stocks/film-removable-610", nil)
	fresh := []byte(strings.Replace(string(nothing.body), `"id":"film-removable-610"`, `"id":"fresh"`, 1))
	for _, c := range []struct {
		header, value string
		status        int
		code          string
	}{{"If-Match", "*", http.StatusPreconditionFailed, "changed_since"}, {"If-None-Match", "*", http.StatusOK, ""}, {"If-None-Match", "*", http.StatusPreconditionFailed, "changed_since"}} {
		d.call(t, "PUT", "/v1/stocks/fresh", fresh, "Content-Type", "application/json", c.header, c.value).wants(t, "one that is not there, "+c.header, c.status, c.code)
	}
}

// Of many edits of the same reading one is written, and the others hear of it.
func TestOneOfManyEditsIsWritten(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: -1})
	for at, changed := range map[string]func(string) string{
		"/v1/price-lists/orrin": func(s string) string { return strings.Replace(s, `"quote_days":14`, `"quote_days":15`, 1) },
		"/v1/store-rules":       func(s string) string { return strings.Replace(s, `"hold_h":72`, `"hold_h":73`, 1) },
	} {
		read := d.call(t, "GET", at, nil)
		body := changed(string(read.body))
		if body == string(read.body) {
			t.Fatalf("nothing is changed in %s", body)
		}
		var all sync.WaitGroup
		var mu sync.Mutex
		got := map[int]int{}
		for range 8 {
			all.Go(func() {
				a := d.call(t, "PUT", at, []byte(body), "Content-Type", "application/json", "If-Match", read.header.Get("ETag"))
				mu.Lock()
				defer mu.Unlock()
				got[a.status]++
			})
		}
		all.Wait()
		if got[http.StatusOK] != 1 || got[http.StatusPreconditionFailed] != 7 {
			t.Errorf("%s: %v", at, got)
		}
	}
}
