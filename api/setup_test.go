package api_test

import (
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

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

	d.seed(t, workshop.Neutral())
	for _, stock := range workshop.Neutral().Stocks {
		got := d.submit(t, "plate.svg", []byte(plate), "stock", stock.ID, "frame", "none")
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
