package api_test

import (
	"net/http"
	"testing"
)

// A plan that is refused for its size shows what is known of it, and says of a
// load that there is none.
func TestPicturesOfAPlanWithoutLoads(t *testing.T) {
	d := open(t)
	p := d.submit(t, "wide.svg", []byte(plate), "stock", "film-removable-610", "width_mm", "3200", "answer", "artwork/wide_lines=middle", "options", `{"panels":"refused"}`)
	if p.Status != "refused" || p.Layout == nil || p.Layout.Loads != 0 {
		t.Fatalf("status %s, layout %+v, findings %+v", p.Status, p.Layout, p.Findings)
	}
	for _, shown := range []string{p.Links["drawing_preview"], p.Links["size_preview"], p.Links["artwork_preview"], p.Links["weeding_preview"]} {
		if a := d.call(t, http.MethodGet, shown, nil); a.status != http.StatusOK {
			t.Errorf("%q answers %d", shown, a.status)
		}
	}
	for _, stage := range []string{"layout", "passes"} {
		d.refuses(t, d.call(t, http.MethodGet, p.Links["self"]+"/previews/"+stage+".svg", nil), http.StatusNotFound, "no_such_load")
	}
}
