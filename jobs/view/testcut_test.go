package view_test

import (
	"bytes"
	"os"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

func testCutOf(t *testing.T, stock string, op artwork.Operation, cut ...trial.Record) *view.TestCut {
	t.Helper()
	d := workshop.Example()
	s, _ := d.Stock(stock)
	m := d.Machines[1]
	m.Compensates = workshop.CompensatesNothing
	set, ok := passes.SettingFor(d.Settings, s, m, op)
	if !ok {
		t.Fatal("no setting")
	}
	req := passes.Request{Stock: s, Machine: m, Settings: d.Settings}
	next := trial.After(set.ForceGF, set.SpeedMMS, trial.Limits{MostGF: passes.MostForce(set, req), MostMMS: m.MaxSpeedMMS, StepMMS: 10}, cut)
	sheet, err := testcut.Make(t.Context(), testcut.Request{
		Request: req, Setting: set, Cells: next.Cells,
	})
	if err != nil {
		t.Fatal(err)
	}
	return &view.TestCut{Sheet: sheet, Next: next, Setting: set, Stock: s, Machine: m}
}

func TestLook(t *testing.T) {
	for _, c := range []struct {
		stock string
		op    artwork.Operation
	}{{"film-removable-610", artwork.KissCut}, {"card-220-a4", artwork.Score}} {
		tc := testCutOf(t, c.stock, c.op)
		var b bytes.Buffer
		if err := tc.Worksheet(t.Context(), &b, "k7m2"); err != nil {
			t.Fatal(err)
		}
		os.WriteFile("/tmp/tc-"+string(c.op)+".pdf", b.Bytes(), 0o600)
		p, err := tc.Picture(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		svg, _ := p.SVG(t.Context())
		os.WriteFile("/tmp/tc-"+string(c.op)+".svg", svg, 0o600)
		for _, f := range []view.Format{view.DXF, view.SVG, view.Plt} {
			b.Reset()
			if err := tc.Write(t.Context(), &b, f); err != nil {
				t.Fatal(err)
			}
			os.WriteFile("/tmp/tc-cut-"+string(c.op)+"."+string(f), b.Bytes(), 0o600)
			t.Log(tc.FileName(f), b.Len())
		}
		t.Log(tc.Passes.Findings)
	}
}
