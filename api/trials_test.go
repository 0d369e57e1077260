package api_test

import (
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
)

const (
	tested   = "/v1/settings/removable_film-kiss_cut"
	onFilm   = "?stock_id=film-removable-610&machine_id=wide-610"
	filmTest = tested + "/test-cut/"
)

// cut reports a sheet of simulated film that is cut between two forces up to a speed.
func cut(t *testing.T, d *desk, sheet api.TestCut, from, to, fastest float64, headers ...string) api.TrialResult {
	t.Helper()
	lists := map[string][]int{"passed": {}, "too_light": {}, "too_deep": {}}
	for _, c := range sheet.Cells {
		list := "passed"
		switch {
		case c.ForceGF < from || c.SpeedMMS > fastest:
			list = "too_light"
		case c.ForceGF > to:
			list = "too_deep"
		}
		lists[list] = append(lists[list], c.Number)
	}
	return send[api.TrialResult](t, d, http.MethodPost, tested+"/trials", fields{
		"sheet": sheet.Sheet, "stock_id": "film-removable-610", "machine_id": "wide-610", "tested_by": "technician 2", "batch": "31",
		"passed": lists["passed"], "too_light": lists["too_light"], "too_deep": lists["too_deep"], "marks": fields{"across_mm": 100.1, "along_mm": 99.9},
	}, http.StatusCreated, headers...)
}

// From a start point for all removable film three sheets lead to a setting of this
// roll on this machine; two cells more and it is trusted; a blade that is put in, or a
// bad cell, takes that back. Plans say so.
func settingIsFound(t *testing.T, d *desk) {
	next := func() api.TestCut {
		return send[api.TestCut](t, d, http.MethodGet, filmTest+"sheet.json"+onFilm, nil, http.StatusOK)
	}
	passOf := func() api.PassSummary {
		p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610", "machine", "wide-610", "frame", "none")
		if len(p.Passes) == 0 {
			t.Fatalf("%s: %+v %+v", p.Status, p.Findings, p.Questions)
		}
		return p.Passes[0]
	}
	if p := passOf(); p.Standing.State != "untested" || p.Standing.Text != "untested: make this test cut first" || p.TestCut != filmTest+"sheet.json?machine_id=wide-610&stock_id=film-removable-610" {
		t.Errorf("%+v %+v", p, p.Standing)
	}
	first := next()
	if first.Aim != "force" || len(first.Cells) != 8 || first.Cells[0].SpeedMMS != 100 || first.Cells[7].SpeedMMS != 100 {
		t.Fatalf("%+v", first)
	}
	once := []string{"Idempotency-Key", "sheet one"}
	got := cut(t, d, first, 70, 95, 200, once...)
	if again := cut(t, d, first, 70, 95, 200, once...); again.Trial.ID != got.Trial.ID {
		t.Error("the sheet was taken twice")
	}
	if w := got.ForceWindow; w == nil || w.From < 70 || w.To > 95 || w.Below >= 70 || w.Above <= 95 {
		t.Errorf("%+v", got.ForceWindow)
	}
	if a := d.call(t, http.MethodPost, tested+"/trials", []byte(`{"sheet":"`+first.Sheet+`","stock_id":"film-removable-610","machine_id":"wide-610","passed":[],"tested_by":"t"}`), "Content-Type", "application/json"); a.status != 409 || !strings.Contains(string(a.body), "other_sheet") {
		t.Errorf("an old sheet: %d %s", a.status, a.body)
	}
	for n := 2; n <= 3; n++ {
		got = cut(t, d, next(), 70, 95, 150)
	}
	own := got.Setting
	if own.StockID != "film-removable-610" || own.MachineID != "wide-610" || own.ForceGF < 75 || own.ForceGF > 90 || own.SpeedMMS > 150 || own.TestedBy != "technician 2" || own.Batch != "31" || got.Standing.State != "tested" {
		t.Fatalf("%+v %+v", own, got.Standing)
	}
	for range 2 {
		sheet := next()
		if sheet.Aim != "again" || len(sheet.Cells) != 1 || sheet.Cells[0].ForceGF != own.ForceGF {
			t.Fatalf("%+v", sheet)
		}
		got = cut(t, d, sheet, 70, 95, 150)
	}
	if p := passOf(); got.Standing.State != "trusted" || p.Standing.State != "trusted" || p.ForceGF != own.ForceGF || p.SettingID != own.ID || p.TestCut != "" {
		t.Errorf("%+v %+v", got.Standing, p)
	}
	send[api.FittedBlade](t, d, http.MethodPut, "/v1/blades/b12", fields{"id": "b12", "machine_id": "wide-610", "blade_id": "fine-45", "work": "film", "offset_mm": 0.27, "fitted_on": "2030-01-02"}, http.StatusOK)
	if p := passOf(); p.Standing.State != "tested" || p.Standing.Lowered != "another_blade" || p.TestCut == "" {
		t.Errorf("%+v", p.Standing)
	}
	if got = cut(t, d, next(), 70, 95, 150); got.Standing.State != "trusted" || got.Trial.Blade != "b12" {
		t.Errorf("%+v", got)
	}
	if got = cut(t, d, next(), 170, 195, 150); got.Standing.State != "untested" {
		t.Errorf("%+v", got.Standing)
	}
	if bad := send[api.TrialResult](t, d, http.MethodGet, "/v1/trials/"+got.Trial.ID.String(), nil, http.StatusOK); bad.Trial.Cells[0].Verdict != "too_light" {
		t.Errorf("%+v", bad.Trial)
	}
	for _, path := range []string{"/v1/blades", "/v1/blades/b12"} {
		if a := d.call(t, http.MethodGet, path, nil); a.status != http.StatusOK || !strings.Contains(string(a.body), `"offset_mm":0.27`) {
			t.Errorf("%d %s", a.status, a.body)
		}
	}
	if a := d.call(t, http.MethodDelete, "/v1/trials/"+got.Trial.ID.String(), nil); a.status != http.StatusNoContent {
		t.Errorf("%d %s", a.status, a.body)
	}
	list := send[api.Trials](t, d, http.MethodGet, tested+"/trials"+onFilm, nil, http.StatusOK)
	if list.Standing.State != "trusted" || len(list.Trials) != 6 || list.Trials[5].Blade != "b12" || list.Trials[0].Marks.AlongMM != 99.9 {
		t.Errorf("%+v", list)
	}
	for _, one := range list.Trials {
		d.call(t, http.MethodDelete, "/v1/trials/"+one.ID.String(), nil)
	}
	if p := passOf(); p.Standing.State != "untested" || p.ForceGF != own.ForceGF || p.SettingID != own.ID {
		t.Errorf("with all test cuts taken back: %+v", p)
	}
}

// Every file of a test cut is there; one that has to know the machine says so.
func testCutFiles(t *testing.T, d *desk) {
	for file, kind := range map[string]string{
		"sheet.pdf": "application/pdf", "picture.svg": "image/svg+xml", "cut.dxf": "image/vnd.dxf", "cut.svg": "image/svg+xml", "cut.plt": "application/vnd.hp-hpgl",
	} {
		a := d.call(t, http.MethodGet, filmTest+file+onFilm+"&compensates=nothing", nil)
		if a.status != http.StatusOK || a.header.Get("Content-Type") != kind {
			t.Errorf("%s: %d %s %.200s", file, a.status, a.header.Get("Content-Type"), a.body)
		}
	}
	for path, want := range map[string]string{
		filmTest + "sheet.json":                                          "needed",
		filmTest + "sheet.json?stock_id=film-removable-610":              "needed",
		filmTest + "sheet.json?stock_id=card-220-a4&machine_id=wide-610": "not_of_setting",
		"/v1/settings/nothing/test-cut/sheet.json" + onFilm:              "not_found",
		"/v1/trials/0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5":                "not_found",
	} {
		if a := d.call(t, http.MethodGet, path, nil); !strings.Contains(string(a.body), `"`+want+`"`) {
			t.Errorf("%s: %d %s", path, a.status, a.body)
		}
	}
}
