package api_test

import (
	"bytes"
	"fmt"
	"net/http"
	"testing"

	"knifedesk/api"
)

// banner is 1740 × 900 mm in one shape.
const banner = `<svg xmlns="http://www.w3.org/2000/svg" width="1740mm" height="900mm" viewBox="0 0 1740 900"><g id="CUT" fill="none" stroke="#007c91"><path d="M0 0H1740V900H0Z"/></g></svg>`

// Work wider than the roll asks whether it is made of panels; answered, each panel is a
// load with pictures, a weeding map and files of its own, and all of them are counted.
// By hand: two panels of 1740 × 455 mm that overlap by 10.
func TestPanelsAreMadeOverHTTP(t *testing.T) {
	d := open(t)
	p := d.submit(t, "banner.svg", []byte(banner), "stock", "film-removable-610", "unit", "mm")
	if p.Status != "asking" || len(p.Questions) != 1 || p.Questions[0].ID != "layout/panels" {
		t.Fatalf("%s: %+v", p.Status, p.Questions)
	}
	reply := []byte(`{"answers":{"layout/panels":{"answer":"make"}}}`)
	answers := p.Links["answers"]
	p = api.Plan{}
	d.call(t, http.MethodPost, answers, reply, "Content-Type", "application/json", "Prefer", "wait=30").json(t, &p)
	if p.Status != "ready" || p.Layout.Loads != 2 || p.Layout.Panels != 2 || p.Layout.Copies != 1 {
		t.Fatalf("%s: layout %+v", p.Status, p.Layout)
	}
	var l api.Layout
	d.call(t, http.MethodGet, p.Links["layout"], nil).json(t, &l)
	length := 0.0
	for i, one := range l.Panels.List {
		w, h := one.Box.Max.X-one.Box.Min.X, one.Box.Max.Y-one.Box.Min.Y
		if w != 1740 || h != 455 || one.Code != fmt.Sprintf("P%d of 2", i+1) || one.Marks != 2 || !one.Coded || l.Loads[i].Panel != i+1 {
			t.Errorf("panel %+v", one)
		}
		length += l.Loads[i].LengthMM
	}
	if p.Usage.RollMM != length || length < 2*1840 {
		t.Errorf("%g mm of roll for loads of %g", p.Usage.RollMM, length)
	}
	for _, path := range []string{
		"/weeding?load=%d", "/previews/weeding.svg?load=%d", "/previews/layout.svg?load=%d", "/previews/passes.svg?load=%d",
		"/replays/load-%d.json", "/files/load-%d.dxf", "/files/load-%d.svg", "/files/load-%d.plt",
	} {
		var bodies [3][]byte
		for load := 1; load <= 3; load++ {
			a := d.call(t, http.MethodGet, p.Links["self"]+fmt.Sprintf(path, load), nil)
			if want := map[bool]int{true: http.StatusOK, false: http.StatusNotFound}[load <= 2]; a.status != want {
				t.Errorf(path+" answers %d: %.200s", load, a.status, a.body)
			}
			bodies[load-1] = a.body
		}
		if bytes.Equal(bodies[0], bodies[1]) {
			t.Errorf(path+" is that of load 1", 2)
		}
	}
	if a := d.call(t, http.MethodGet, p.Links["worksheet"], nil); a.status != http.StatusOK {
		t.Errorf("worksheet: %d %.200s", a.status, a.body)
	}
}
