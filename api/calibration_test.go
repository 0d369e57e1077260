package api_test

import (
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
)

// Before ten jobs were timed plans count with the start values, and say so.
func calibrationEndpoints(t *testing.T, d *desk) {
	got := send[api.CalibrationState](t, d, http.MethodGet, "/v1/calibration", nil, http.StatusOK)
	if got.InUse.Text != "start values" || got.Proposed != nil || got.LeastJobs != 10 || len(got.InUse.Values) != 6 || got.InUse.Values[1].Start != 30 {
		t.Errorf("%+v", got)
	}
	a := d.call(t, http.MethodPut, "/v1/calibration", []byte(`{"use":"fitted"}`), "Content-Type", "application/json")
	if a.status != http.StatusConflict || !strings.Contains(string(a.body), "too_few_jobs") {
		t.Errorf("%d %s", a.status, a.body)
	}
	send[api.CalibrationState](t, d, http.MethodPut, "/v1/calibration", fields{"use": "start_values"}, http.StatusOK)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "frame", "none")
	if p.Estimate == nil || p.Estimate.Calibration != "start values" {
		t.Errorf("%+v", p.Estimate)
	}
}
