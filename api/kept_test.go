package api_test

import (
	"bytes"
	"net/http"
	"testing"

	"knifedesk/api"
)

// What is read again is the same, by its tag and its bytes, whether it was kept
// or is made anew. A worksheet says which plan it is for, and so is its own.
func TestReadsAreRepeatable(t *testing.T) {
	for name, cfg := range map[string]api.Config{"kept": {}, "made anew": {CacheBytes: -1}} {
		t.Run(name, func(t *testing.T) {
			d := openWith(t, cfg)
			p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "client_reference", "bay 1")
			other := d.submit(t, "other.svg", []byte(plate), "stock", "film-removable-610", "client_reference", "bay 2")
			for link, path := range p.Links {
				if link == "answers" || link == "self" {
					continue
				}
				first := d.call(t, http.MethodGet, path, nil)
				if first.status != http.StatusOK {
					t.Errorf("%s answers %d", link, first.status)
				}
				own := link == "worksheet" || link == "drawing" // they name the plan or the drawing
				if a := d.call(t, http.MethodGet, other.Links[link], nil); bytes.Equal(a.body, first.body) == own {
					t.Errorf("%s of two plans for the same: equal is %v", link, !own)
				}
				if own && cfg.CacheBytes < 0 {
					continue // the pages of a plan may differ in their bytes where nothing is kept
				}
				tag := first.header.Get("ETag")
				if a := d.call(t, http.MethodGet, path, nil, "If-None-Match", tag); a.status != http.StatusNotModified || tag == "" {
					t.Errorf("%s with the tag %s answers %d", link, tag, a.status)
				}
				if a := d.call(t, http.MethodGet, path, nil); !bytes.Equal(a.body, first.body) {
					t.Errorf("%s is another one", link)
				}
			}
		})
	}
}
