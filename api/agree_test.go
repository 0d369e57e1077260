package api_test

import (
	"bytes"
	"net/http"
	"strings"
	"testing"
)

// Workshop data that cannot be meant is refused with the field; what was there stays.
// Each row spoils what the example has.
func TestWorkshopDataThatCannotBeMeant(t *testing.T) {
	d := open(t)
	for _, c := range []struct{ path, old, new, code, field string }{
		{"/v1/stocks/card-160-a4", `"margin_mm":5,`, `"margin_mm":200,`, "fields_disagree", "margin_mm"},
		{"/v1/stocks/card-160-a4", `"width_mm":210`, `"width_mm":-210`, "invalid_body", "width_mm"},
		{"/v1/stocks/card-160-a4", `"width_mm":210`, `"width_mm":"NaN"`, "invalid_body", "width_mm"},
		{"/v1/stocks/card-160-a4", `"width_mm":210`, `"width_mm":NaN`, "invalid_body", ""},
		{"/v1/stocks/card-160-a4", `"width_mm":210`, `"width_mm":1e400`, "invalid_body", ""},
		{"/v1/stocks/card-160-a4", `"id":"card-160-a4"`, `"id":"card-160-a3"`, "id_differs", "id"},
		{"/v1/machines/wide-610", `"lift_s":`, `"lift_s":1e300,"x":`, "invalid_body", ""},
		{"/v1/machines/wide-610", `"accel_mm_s2":`, `"accel_mm_s2":0.0`, "invalid_body", "accel_mm_s2"}, // by which a pass takes for ever
		{"/v1/machines/wide-610", `"max_speed_mm_s":`, `"max_speed_mm_s":0.0`, "invalid_body", "max_speed_mm_s"},
		{"/v1/machines/wide-610", `"travel_mm_s":`, `"travel_mm_s":0.0`, "invalid_body", "travel_mm_s"},
		{"/v1/settings/removable_film-kiss_cut", `"speed_mm_s":`, `"speed_mm_s":0.0`, "invalid_body", "speed_mm_s"},
		{"/v1/machines/wide-610", `"max_force_gf":`, `"max_force_gf":-`, "invalid_body", "max_force_gf"},
		{"/v1/machines/wide-610", `"name":"`, `"name":"","name":"`, "invalid_body", ""},
		{"/v1/settings/removable_film-kiss_cut", `"force_gf":`, `"force_gf":-`, "invalid_body", "force_gf"},
		{"/v1/settings/removable_film-kiss_cut", `"operation":`, `"dash_mm":2,"tie_mm":1,"operation":`, "fields_disagree", "dash_mm"},
		{"/v1/price-lists/orrin", `"name":"Orrin`, `"name":" ","x":"Orrin`, "invalid_body", ""},
		{"/v1/price-lists/orrin", `"machine_per_minute":"`, `"machine_per_minute":"-`, "invalid_body", "machine_per_minute"},
		{"/v1/price-lists/orrin", `"machine_per_minute":"`, `"machine_per_minute":"1e9999`, "invalid_body", "machine_per_minute"},
		{"/v1/price-lists/orrin", `"currency":"credit"`, `"currency":"  "`, "fields_disagree", "currency"},
	} {
		was := d.call(t, http.MethodGet, c.path, nil).body
		wrong := bytes.Replace(was, []byte(c.old), []byte(c.new), 1)
		if bytes.Equal(was, wrong) {
			t.Errorf("%s has no %s: %s", c.path, c.old, was)
			continue
		}
		a := d.call(t, http.MethodPut, c.path, wrong, asJSON()...)
		var p struct{ Code, Field, Change string }
		if a.status < 400 {
			t.Errorf("%s with %s: %d", c.path, c.new, a.status)
			continue
		}
		a.json(t, &p)
		if a.status >= 500 || p.Change == "" || c.field != "" && (p.Field != c.field || p.Code != c.code) {
			t.Errorf("%s with %s: %d %+v", c.path, c.new, a.status, p)
		}
		if now := d.call(t, http.MethodGet, c.path, nil).body; !bytes.Equal(was, now) {
			t.Errorf("%s is now %s", c.path, now)
		}
	}
}

// Whoever writes a price list is told which stocks it has no price for.
func TestPriceListTellsWhatItLacks(t *testing.T) {
	d := open(t)
	const path, header = "/v1/price-lists/orrin", "Unpriced-Stocks"
	a := d.call(t, http.MethodGet, path, nil)
	if was := a.header.Get(header); strings.Contains(was, "film-removable-610") {
		t.Errorf("before: %s", was)
	}
	less := bytes.Replace(a.body, []byte(`"film-removable-610":`), []byte(`"film-removable-61":`), 1)
	for _, a := range []answer{d.call(t, http.MethodPut, path, less, asJSON()...), d.call(t, http.MethodGet, path, nil)} {
		if a.status != http.StatusOK || !strings.Contains(a.header.Get(header), "film-removable-610") {
			t.Errorf("%d, %s: %q", a.status, header, a.header.Get(header))
		}
	}
}
