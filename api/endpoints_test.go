package api_test

import (
	"bytes"
	"encoding/json"
	"image/png"
	"math"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"knifedesk/api"
)

// A plate of 80 × 40 mm with a hole, true to size, on the layer of the cuts.
const plate = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/><circle cx="30" cy="30" r="8"/></g></svg>`

// The same plate with a fold line, which makes no sense on film.
const folded = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/></g>
<g id="FOLD" fill="none" stroke="#7a3eb1"><path d="M10 30H90"/></g></svg>`

func TestEveryEndpoint(t *testing.T) {
	d := open(t)
	t.Run("service", func(t *testing.T) { serviceEndpoints(t, d) })
	t.Run("workshop", func(t *testing.T) { workshopEndpoints(t, d) })
	t.Run("drawings", func(t *testing.T) { drawingEndpoints(t, d) })
	t.Run("plans", func(t *testing.T) { planEndpoints(t, d) })
	t.Run("answers", func(t *testing.T) { answerEndpoints(t, d) })
	t.Run("stores", func(t *testing.T) { storeEndpoints(t, d) })
	t.Run("outcomes", func(t *testing.T) { outcomeEndpoints(t, d) })
	t.Run("measured", func(t *testing.T) { measuredEndpoints(t, d) })
	t.Run("calibration", func(t *testing.T) { calibrationEndpoints(t, d) })
	t.Run("test cuts", func(t *testing.T) { settingIsFound(t, d); testCutFiles(t, d) })
	t.Run("class sets", func(t *testing.T) { classEndpoints(t, d) })
	t.Run("access", func(t *testing.T) { accessEndpoints(t, guarded{d}) })

	for path, item := range d.spec.Paths.Map() {
		for method, op := range item.Operations() {
			if !d.seen[op.OperationID] {
				t.Errorf("%s %s (%s) is in the specification and was never called", method, path, op.OperationID)
			}
		}
	}
}

func serviceEndpoints(t *testing.T, d *desk) {
	for _, path := range []string{"/healthz", "/readyz", "/metrics", "/v1/work", "/openapi.yaml", "/docs", "/"} {
		if a := d.call(t, http.MethodGet, path, nil); a.status != http.StatusOK || len(a.body) == 0 {
			t.Errorf("%s answers %d with %d bytes", path, a.status, len(a.body))
		}
	}
	if a := d.call(t, http.MethodGet, "/openapi.yaml", nil); !bytes.Contains(a.body, []byte("createPlan")) {
		t.Error("the specification served lacks createPlan")
	} else if inside := regexp.MustCompile(`x-go|knifedesk/`).Find(a.body); inside != nil {
		t.Errorf("the specification served tells how it is made: %s", inside)
	}
}

func workshopEndpoints(t *testing.T, d *desk) {
	for _, list := range []string{"stocks", "machines", "settings", "conventions", "price-lists"} {
		t.Run(list, func(t *testing.T) {
			a := d.call(t, http.MethodGet, "/v1/"+list, nil)
			var all map[string][]map[string]any
			a.json(t, &all)
			items := all[strings.ReplaceAll(list, "-", "_")]
			if a.status != http.StatusOK || len(items) == 0 {
				t.Fatalf("%d %s", a.status, a.body)
			}
			one := "/v1/" + list + "/" + items[0]["id"].(string)
			got := d.call(t, http.MethodGet, one, nil)
			put := d.call(t, http.MethodPut, one, got.body, "Content-Type", "application/json")
			if put.status != http.StatusOK {
				t.Fatalf("what was read cannot be written back: %d %s", put.status, put.body)
			}
			if a := d.call(t, http.MethodGet, "/v1/"+list+"/nothing-like-it", nil); a.status != http.StatusNotFound {
				t.Errorf("an unknown one answers %d", a.status)
			}
			if a := d.call(t, http.MethodPut, "/v1/"+list+"/another", got.body, "Content-Type", "application/json"); a.status != http.StatusUnprocessableEntity {
				t.Errorf("two ids answer %d", a.status)
			}
		})
	}
	if a := d.call(t, http.MethodGet, "/v1/stocks/film-removable-610/roll-left?outer_mm=100&core_mm=76", nil); a.status == http.StatusNotFound {
		t.Errorf("what is left on a roll: %d %s", a.status, a.body)
	}
	if a := d.call(t, http.MethodGet, "/v1/templates/card-220-a4.svg", nil); a.status != http.StatusOK {
		t.Errorf("a starter file: %d %s", a.status, a.body)
	}
	var list api.PriceList
	d.call(t, http.MethodGet, "/v1/price-lists/orrin", nil).json(t, &list)
	if list.Version != 2 {
		t.Errorf("a price list written once has version %d, want 2", list.Version)
	}
}

func drawingEndpoints(t *testing.T, d *desk) {
	a := d.call(t, http.MethodPost, "/v1/drawings?name=plate.svg", []byte(plate), "Content-Type", "image/svg+xml")
	if a.status != http.StatusCreated {
		t.Fatalf("%d %s", a.status, a.body)
	}
	var got api.Drawing
	a.json(t, &got)
	if got.Format != "svg" || got.Shapes != 2 || got.Name != "plate.svg" || len(got.Colours) != 1 {
		t.Errorf("%s", a.body)
	}
	body, kind := form(t, "plate.svg", []byte(plate))
	if b := d.call(t, http.MethodPost, "/v1/drawings", body, "Content-Type", kind); b.status != http.StatusCreated {
		t.Errorf("as a form: %d %s", b.status, b.body)
	}
	where := a.header.Get("Location")
	if b := d.call(t, http.MethodGet, where, nil); b.status != http.StatusOK {
		t.Errorf("%d %s", b.status, b.body)
	}
	for _, picture := range []string{"preview.svg", "preview.png"} {
		if b := d.call(t, http.MethodGet, where+"/"+picture, nil); b.status != http.StatusOK {
			t.Errorf("%s: %d", picture, b.status)
		}
	}
	if b := d.call(t, http.MethodDelete, where, nil); b.status != http.StatusNoContent {
		t.Errorf("erasing: %d %s", b.status, b.body)
	}
	if b := d.call(t, http.MethodGet, where, nil); b.status != http.StatusNotFound {
		t.Errorf("an erased drawing answers %d", b.status)
	}
}

func planEndpoints(t *testing.T, d *desk) {
	drawing := d.call(t, http.MethodPost, "/v1/drawings", []byte(plate), "Content-Type", "application/octet-stream")
	var sent api.Drawing
	drawing.json(t, &sent)
	order, _ := json.Marshal(map[string]any{
		"drawing_id": sent.ID, "stock_id": "film-removable-610", "copies": 3, "client_reference": "bay 4",
	})
	a := d.call(t, http.MethodPost, "/v1/plans", order, "Content-Type", "application/json", "Prefer", "wait=30")
	var p api.Plan
	a.json(t, &p)
	if a.status != http.StatusOK || p.Status != "ready" {
		t.Fatalf("%d %s", a.status, a.body)
	}
	if p.Size == nil || math.Abs(p.Size.WidthMM-80) > 1e-9 || math.Abs(p.Size.HeightMM-40) > 1e-9 {
		t.Errorf("size %+v", p.Size)
	}
	if p.Weeding == nil || p.Weeding.Kept != 1 || p.Weeding.Counters != 1 {
		t.Errorf("weeding %+v", p.Weeding)
	}
	for name, link := range p.Links {
		if name == "answers" {
			continue
		}
		if b := d.call(t, http.MethodGet, link, nil); b.status != http.StatusOK {
			t.Errorf("link %s: %d %s", name, b.status, b.body)
		}
	}
	planPictures(t, d, p)
	text := d.call(t, http.MethodGet, p.Links["self"], nil, "Accept", "text/plain")
	if !bytes.Contains(text.body, []byte("80 × 40 mm")) {
		t.Errorf("the summary does not tell the size:\n%s", text.body)
	}
	var events []string
	for _, line := range strings.Split(string(d.call(t, http.MethodGet, p.Links["self"]+"/events", nil).body), "\n") {
		if name, ok := strings.CutPrefix(line, "event: "); ok {
			events = append(events, name)
		}
	}
	if !slices.Equal(events, []string{"settled"}) {
		t.Errorf("the events of a plan that is ready: %v", events)
	}
	tagged := d.call(t, http.MethodGet, p.Links["self"], nil)
	if b := d.call(t, http.MethodGet, p.Links["self"], nil, "If-None-Match", tagged.header.Get("ETag")); b.status != http.StatusNotModified {
		t.Errorf("a known plan answers %d", b.status)
	}
	var page struct{ Plans []api.PlanHead }
	d.call(t, http.MethodGet, "/v1/plans?status=ready&client_reference=bay+4", nil).json(t, &page)
	if len(page.Plans) != 1 || page.Plans[0].ID != p.ID {
		t.Errorf("the list holds %+v", page.Plans)
	}
	for list, empty := range map[string]string{"/v1/drawings?state=planned": `"drawings":[]`, "/v1/acceptances": `"acceptances":[{`} {
		if a := d.call(t, http.MethodGet, list, nil); a.status != http.StatusOK || bytes.Contains(a.body, []byte(empty)) {
			t.Errorf("%s: %d %s", list, a.status, a.body)
		}
	}
	if b := d.call(t, http.MethodDelete, p.Links["self"], nil); b.status != http.StatusOK {
		t.Errorf("cancelling a plan that is ready: %d %s", b.status, b.body)
	}
	if b := d.call(t, http.MethodDelete, "/v1/drawings/"+sent.ID.String(), nil); b.status != http.StatusConflict {
		t.Errorf("erasing a drawing in use answers %d", b.status)
	}
}

func planPictures(t *testing.T, d *desk, p api.Plan) {
	for _, stage := range []string{"size", "artwork", "weeding", "layout", "passes"} {
		base := p.Links["self"] + "/previews/" + stage
		if a := d.call(t, http.MethodGet, base+".svg", nil); a.status != http.StatusOK || !bytes.HasPrefix(a.body, []byte("<svg ")) {
			t.Errorf("%s.svg: %d", stage, a.status)
		}
		a := d.call(t, http.MethodGet, base+".png", nil)
		if img, err := png.Decode(bytes.NewReader(a.body)); err != nil || img.Bounds().Dx() < 1000 {
			t.Errorf("%s.png: %d, %v", stage, a.status, err)
		}
	}
	if a := d.call(t, http.MethodGet, p.Links["self"]+"/previews/layout.svg?load=9", nil); a.status != http.StatusNotFound {
		t.Errorf("load 9 answers %d", a.status)
	}
	for _, ending := range []string{"dxf", "svg", "plt"} {
		if a := d.call(t, http.MethodGet, p.Links["self"]+"/files/load-1."+ending, nil); a.status != http.StatusOK || len(a.body) < 100 {
			t.Errorf("load-1.%s: %d with %d bytes", ending, a.status, len(a.body))
		}
	}
}

func answerEndpoints(t *testing.T, d *desk) {
	p := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	if p.Status != "asking" || len(p.Questions) != 1 {
		t.Fatalf("status %s, questions %+v", p.Status, p.Questions)
	}
	q := p.Questions[0]
	wrong, _ := json.Marshal(map[string]any{"answers": map[string]any{q.ID: map[string]any{"answer": "perhaps"}}})
	if a := d.call(t, http.MethodPost, p.Links["answers"], wrong, "Content-Type", "application/json"); a.status != http.StatusUnprocessableEntity {
		t.Errorf("an answer that is not offered: %d", a.status)
	}
	right, _ := json.Marshal(map[string]any{"answers": map[string]any{q.ID: map[string]any{"answer": q.Answers[0].ID}}})
	a := d.call(t, http.MethodPost, p.Links["answers"], right, "Content-Type", "application/json", "Prefer", "wait=30")
	a.json(t, &p)
	if a.status != http.StatusOK || p.Status != "ready" {
		t.Fatalf("after the answer: %d %s", a.status, a.body)
	}
	if _, ok := p.Answers[q.ID]; !ok {
		t.Errorf("the answer is not shown: %+v", p.Answers)
	}
	b := d.call(t, http.MethodDelete, p.Links["answers"]+"/"+url.PathEscape(q.ID), nil)
	if b.status != http.StatusAccepted {
		t.Fatalf("taking it back: %d %s", b.status, b.body)
	}
	d.call(t, http.MethodGet, p.Links["self"], nil, "Prefer", "wait=30").json(t, &p)
	if p.Status != "asking" {
		t.Errorf("after taking the answer back: %s", p.Status)
	}
}
