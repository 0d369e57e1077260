package api_test

import (
	"bytes"
	"net/http"
	"testing"

	"knifedesk/api"
)

// loseResults puts the results out of reach: whatever reads one from now on
// fails.
func (d *desk) loseResults(t *testing.T) {
	t.Helper()
	if _, err := d.store.Pool.Exec(t.Context(), `alter table results rename to results_lost`); err != nil {
		t.Fatal(err)
	}
}

// read is one request for what is there, and its first answer.
type read struct {
	path   string
	accept string
	first  answer
}

// readAll sends requests for the paths, which must be answered well.
func (d *desk) readAll(t *testing.T, accept string, paths ...string) []read {
	t.Helper()
	var all []read
	for _, path := range paths {
		a := d.call(t, http.MethodGet, path, nil, "Accept", accept)
		if a.status != http.StatusOK || len(a.body) == 0 || a.header.Get("ETag") == "" {
			t.Fatalf("%s answers %d with %d bytes and the tag %q", path, a.status, len(a.body), a.header.Get("ETag"))
		}
		all = append(all, read{path, accept, a})
	}
	return all
}

// sameAgain checks that requests are answered as they were at first, with the
// tag and without.
func (d *desk) sameAgain(t *testing.T, all []read) {
	t.Helper()
	for _, r := range all {
		tag := r.first.header.Get("ETag")
		again := d.call(t, http.MethodGet, r.path, nil, "Accept", r.accept)
		if again.status != http.StatusOK || !bytes.Equal(again.body, r.first.body) || again.header.Get("ETag") != tag {
			t.Errorf("%s as %s answers %d with %d bytes and the tag %s, at first with %d and %s",
				r.path, r.accept, again.status, len(again.body), again.header.Get("ETag"), len(r.first.body), tag)
		}
		if a := d.call(t, http.MethodGet, r.path, nil, "Accept", r.accept, "If-None-Match", tag); a.status != http.StatusNotModified || len(a.body) > 0 {
			t.Errorf("%s as %s with its tag answers %d", r.path, r.accept, a.status)
		}
	}
}

// settledPlans are one plan that is ready, one that asks and one that is
// refused.
func (d *desk) settledPlans(t *testing.T) []api.Plan {
	t.Helper()
	plans := []api.Plan{
		d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610"),
		d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610"),
		d.submit(t, "wide.svg", []byte(plate), "stock", "film-removable-610", "width_mm", "3200", "answer", "artwork/wide_lines=middle", "options", `{"panels":"refused"}`),
	}
	for i, want := range []api.PlanStatus{"ready", "asking", "refused"} {
		if plans[i].Status != want {
			t.Fatalf("%s is %s, want %s", plans[i].ID, plans[i].Status, want)
		}
	}
	return plans
}

// What callers read of settled plans, one by one and in the list, was written
// when they settled: no result is read for it, however large.
func TestSettledPlansReadNoResult(t *testing.T) {
	d := open(t)
	var reads []read
	for _, p := range d.settledPlans(t) {
		reads = append(reads, d.readAll(t, "application/json", p.Links["self"])...)
		reads = append(reads, d.readAll(t, "text/plain", p.Links["self"])...)
	}
	reads = append(reads, d.readAll(t, "application/json", "/v1/plans", "/v1/plans?status=asking", "/v1/plans?limit=2")...)
	d.loseResults(t)
	d.sameAgain(t, reads)
}

// What is made of the results of a plan is made once and kept: the second time
// no result is read. What was not asked for before cannot be made any more.
func TestWhatIsMadeIsKept(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	self := p.Links["self"]
	paths := []string{
		self + "/worksheet.pdf", self + "/files/load-1.dxf", self + "/files/load-1.svg", self + "/files/load-1.plt",
		self + "/previews/layout.svg?load=1", p.Links["drawing_preview"],
	}
	for _, job := range []string{"size", "artwork", "weeding", "layout", "passes"} {
		paths = append(paths, self+"/"+job, self+"/previews/"+job+".svg", self+"/previews/"+job+".png")
	}
	reads := d.readAll(t, "*/*", paths...)
	d.loseResults(t)
	d.sameAgain(t, reads)
	for _, fresh := range []string{self + "/estimate", p.Links["drawing"] + "/preview.png"} {
		d.refuses(t, d.call(t, http.MethodGet, fresh, nil), http.StatusInternalServerError, "internal")
	}
}
