package view_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
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

// A test cut has a layer or pen a cell, named by what is set by hand, light before
// heavy; the two marks measure 100 mm in the file; and its worksheet is one page that
// says all that is set. Lengths and boxes by ezdxf's own measure would hold the knife's
// lead too, so the machine here makes up for the knife itself.
func TestTestCut(t *testing.T) {
	for _, c := range []struct {
		stock  string
		op     artwork.Operation
		layers int
		words  []string
	}{
		{"film-removable-610", artwork.KissCut, 8, []string{"Test cut: kiss cut", "the liner is marked and not cut", "k7m2", "34", "213"}},
		{"card-220-a4", artwork.Score, 9, []string{"The bar folds straight along the line", "the bars are cut out at 210 gf", "126"}},
		{"card-220-a4", artwork.Pen, 8, []string{"The line is whole and even."}},
	} {
		cut := testCutOf(t, c.stock, c.op)
		var file bytes.Buffer
		if err := cut.Write(t.Context(), &file, view.SVG); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(file.String(), "<g "); n != c.layers {
			t.Errorf("%s: %d layers, want %d", c.op, n, c.layers)
		}
		for i, cell := range cut.Cells {
			if want := fmt.Sprintf("%02d_%s_%vgf_%vmm-s", i+1, c.op, cell.ForceGF, cell.SpeedMMS); !strings.Contains(file.String(), want) || cut.Layer(cell) != want {
				t.Errorf("%s: no layer %s", c.op, want)
			}
			if i > 0 && cell.ForceGF <= cut.Cells[i-1].ForceGF {
				t.Errorf("%s: %v gf after %v", c.op, cell.ForceGF, cut.Cells[i-1].ForceGF)
			}
		}
		across, along := cut.Marks()
		if math.Abs(across.Width()-100) > 1e-9 || math.Abs(along.Height()-100) > 1e-9 {
			t.Errorf("the marks measure %v and %v", across.Width(), along.Height())
		}
		file.Reset()
		if err := cut.Worksheet(t.Context(), &file, "k7m2"); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(run(t, reference.Tool(t, "pdftotext"), file.Bytes(), "-raw", "-", "-")), " ")
		if n := strings.Count(text, "k7m2"); n != 2 {
			t.Errorf("%s: the sheet's code stands on it %d times, want 2: in its corner, and where it is reported", c.op, n)
		}
		for _, want := range c.words {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the worksheet lacks %q:\n%s", c.op, want, text)
			}
		}
	}
}

// With a link, its code stands in the upper right corner of a test cut's sheet, 25 mm a
// side within margins of 12 mm, and no word on it.
func TestTestCutSheetLeavesItsCodeFree(t *testing.T) {
	const point = 25.4 / 72
	for _, link := range []string{"", "https://cutters.example/#k7m2"} {
		cut := testCutOf(t, "film-removable-610", artwork.KissCut)
		cut.Link = link
		var file bytes.Buffer
		if err := cut.Worksheet(t.Context(), &file, "k7m2"); err != nil {
			t.Fatal(err)
		}
		on := 0
		for _, w := range readPrint(t, file.Bytes()).pages[0].words {
			if w.X2*point > 210-12-25 && w.Y1*point < 12+25 {
				on++
			}
		}
		if (on == 0) != (link != "") {
			t.Errorf("link %q: %d words stand where the code is or would be", link, on)
		}
	}
}
