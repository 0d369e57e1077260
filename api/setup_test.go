package api_test

import (
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Two openings of 20 × 40 mm, true to size, on the layer of the cuts.
const openings = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="20" height="40"/><rect x="60" y="10" width="20" height="40"/></g></svg>`

// A workshop that nobody has set up says what to do; set up neutrally it plans,
// and makes no price up.
func TestWorkshopIsSetUp(t *testing.T) {
	d := openEmpty(t, api.Config{})
	body, kind := form(t, "plate.svg", []byte(plate), "stock", "card-220-a4", "frame", "none")
	a := d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind)
	var p api.Problem
	a.json(t, &p)
	if a.status != 422 || p.Code != "invalid_choice" || p.Field != "stock" ||
		!strings.Contains(p.Detail, "lists no stock yet") || !strings.Contains(p.Change, "knifedesk init") {
		t.Errorf("%d %s", a.status, a.body)
	}

	// What machines make up for by themselves nobody else can know: it is entered
	// first, or each plan asks.
	data := workshop.Neutral()
	for i := range data.Machines {
		data.Machines[i].Compensates = workshop.CompensatesAll
	}
	d.seed(t, data)
	for _, stock := range workshop.Neutral().Stocks {
		drawn := plate
		if stock.Family == workshop.StencilSheet || stock.Family == workshop.StencilFilm {
			drawn = openings // in which nothing could be the sheet's edge
		}
		got := d.submit(t, "drawn.svg", []byte(drawn), "stock", stock.ID, "frame", "none")
		if got.Status != "ready" || got.Estimate == nil {
			t.Errorf("%s: %s, %+v", stock.ID, got.Status, got.Findings)
			continue
		}
		if got.Estimate.NetMinor != 0 || got.Estimate.TotalText != "0.00 unpriced" || got.Estimate.BenchSlotMin == 0 {
			t.Errorf("%s: %+v", stock.ID, got.Estimate)
		}
		missing := false
		for _, f := range got.Findings {
			missing = missing || f.Code == string(finding.PriceMissing)
		}
		if !missing {
			t.Errorf("%s: nothing says that the price is missing", stock.ID)
		}
	}
}
