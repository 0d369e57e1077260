package api_test

import (
	"bytes"
	"math"
	"net/http"
	"testing"

	"knifedesk/api"
)

// Margins that leave no room, and fields that disagree otherwise, are refused with the
// field and what to write; the stock stays as it was.
func TestFieldsOfAStockAreHeldAgainstEachOther(t *testing.T) {
	d := open(t)
	const path = "/v1/stocks/card-160-a4"
	stock := d.call(t, http.MethodGet, path, nil).body
	wrong := bytes.Replace(stock, []byte(`"margin_mm":5,`), []byte(`"margin_mm":200,`), 1)
	if p := d.refuses(t, d.call(t, http.MethodPut, path, wrong, asJSON()...), 422, "fields_disagree"); p.Field != "margin_mm" || p.Change == "" {
		t.Errorf("field %q, change %q", p.Field, p.Change)
	}
	if after := d.call(t, http.MethodGet, path, nil).body; !bytes.Equal(stock, after) {
		t.Errorf("the stock is now %s", after)
	}
	if a := d.call(t, http.MethodPut, path, stock, asJSON()...); a.status != http.StatusOK {
		t.Errorf("as it was: %d %s", a.status, a.body)
	}
}

// Check values, row 52, and the roll: of 100/76 mm 14.4 m are left and not the
// 47.4 that the caliper of the film would promise. Who entered no winding is told to
// measure a new roll.
func TestRollLeft(t *testing.T) {
	d := open(t)
	const path = "/v1/stocks/film-removable-610"
	var left api.RollLeft
	d.call(t, http.MethodGet, path+"/roll-left?outer_mm=100", nil).json(t, &left)
	if math.Abs(left.LengthMM-14424) > 1 || left.LowMM >= left.LengthMM || left.HighMM <= left.LengthMM || left.WoundUM != 230 || left.Learned {
		t.Errorf("%+v", left)
	}
	d.call(t, http.MethodGet, path+"/roll-left?outer_mm=100&core_mm=50", nil).json(t, &left)
	if math.Abs(left.LengthMM-math.Pi*7500/4/0.23) > 1e-6 {
		t.Errorf("on a core of 50 mm: %+v", left)
	}
	d.refuses(t, d.call(t, http.MethodGet, path+"/roll-left?outer_mm=70", nil), 422, "within_core")
	d.refuses(t, d.call(t, http.MethodGet, "/v1/stocks/card-160-a4/roll-left?outer_mm=70", nil), 422, "no_roll")
	d.refuses(t, d.call(t, http.MethodGet, "/v1/stocks/tin/roll-left?outer_mm=70", nil), 404, "not_found")
	stock := d.call(t, http.MethodGet, path, nil).body
	bare := bytes.Replace(stock, []byte(`"thickness_um":230`), []byte(`"thickness_um":0`), 1)
	if a := d.call(t, http.MethodPut, path, bare, asJSON()...); a.status != http.StatusOK {
		t.Fatalf("%d %s", a.status, a.body)
	}
	d.refuses(t, d.call(t, http.MethodGet, path+"/roll-left?outer_mm=100", nil), 422, "thickness_unknown")
}

// A stock is held as the plan says, with the margins of that hold; one that cannot be
// is refused with what can.
func TestPlanChoosesTheHold(t *testing.T) {
	d := open(t)
	drawn := d.drawingID(t)
	order := func(stock, hold string) answer {
		return d.call(t, http.MethodPost, "/v1/plans", []byte(`{"drawing_id":"`+drawn+`","stock_id":"`+stock+`","options":{"hold":"`+hold+`"}}`), "Content-Type", "application/json")
	}
	if p := d.refuses(t, order("film-removable-610", "mat"), 422, "invalid_choice"); p.Field != "options.hold" {
		t.Errorf("field %q", p.Field)
	}
	if a := order("card-160-a4", "rollers"); a.status != http.StatusAccepted {
		t.Errorf("%d %s", a.status, a.body)
	}
}
