package api_test

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"
	"time"

	"knifedesk/api"
)

// gears is a drawing of 10 gears of 30 sides, 300 segments.
func gears() []byte {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="90mm" viewBox="0 0 210 90"><g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1">`)
	for i := range 10 {
		b.WriteString(`<path d="`)
		for k := range 30 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 30)
			r := 15 + 3*float64(k%2)
			fmt.Fprintf(&b, "%c%.2f %.2f", "ML"[min(k, 1)], 22+float64(i%5)*41+r*cos, 22+float64(i/5)*41+r*sin)
		}
		b.WriteString(`z"/>`)
	}
	b.WriteString(`</g></svg>`)
	return []byte(b.String())
}

// What the page asks for when a choice changes works nothing out again that the choice
// does not touch, and the drawing is not sent again. The times are printed for a look:
// agreed are 1 s for the first answer to a drawing of 300 segments and 150 ms for a
// change (p95) on a machine that does nothing else, which this one seldom is.
func TestChangesReuseWhatIsKnown(t *testing.T) {
	d := open(t)
	began := time.Now()
	p := d.submit(t, "gears.svg", gears(), "stock", "film-removable-610", "unit", "mm")
	first := time.Since(began)
	if p.Status != "ready" {
		t.Fatalf("%s: %+v", p.Status, p.Questions)
	}
	var took []time.Duration
	for i := range 3 {
		stock, again := "film-removable-610", 4 // read, size, artwork, weeding
		if i == 2 {
			stock, again = "film-permanent-300", 1 // whether it fits, and what lines mean, goes by the stock
		}
		order := fmt.Sprintf(`{"drawing_id":%q,"stock_id":%q,"copies":%d,"size":{"unit":"mm"}}`, p.DrawingID, stock, 2+i)
		began := time.Now()
		a := d.call(t, http.MethodPost, "/v1/plans", []byte(order), "Content-Type", "application/json", "Prefer", "wait=30")
		took = append(took, time.Since(began))
		var changed api.Plan
		a.json(t, &changed)
		if changed.Status != "ready" || changed.Estimate == nil || changed.Links["layout_preview"] == "" || changed.Copies != 2+i {
			t.Fatalf("%d copies on %s: %s", 2+i, stock, changed.Status)
		}
		for k, g := range changed.Progress[:again] {
			if !g.Reused {
				t.Errorf("%d copies on %s: step %d, %s, is worked out again", 2+i, stock, k+1, g.Stage)
			}
		}
	}
	t.Logf("the first answer took %v, changes %v", first, took)
}
