package testcut_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// asked is a test cut of ten cells of a setting of the example workshop.
func asked(t *testing.T, stock string, op artwork.Operation) testcut.Request {
	t.Helper()
	d := workshop.Example()
	s, _ := d.Stock(stock)
	m, _ := d.Machine("wide-610")
	set, ok := passes.SettingFor(d.Settings, s, m, op)
	if !ok {
		t.Fatalf("no setting for %s of %s", op, stock)
	}
	q := testcut.Request{Request: passes.Request{Stock: s, Machine: m, Settings: d.Settings}, Setting: set}
	for i := range 10 {
		q.Cells = append(q.Cells, trial.Cell{ForceGF: 40 + 5*float64(i), SpeedMMS: 50 + 10*float64(i)})
	}
	return q
}

func made(t *testing.T, q testcut.Request) *testcut.Sheet {
	t.Helper()
	s, err := testcut.Make(t.Context(), q)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// cutBy are the strokes that a pass runs, from 1.
func cutBy(s *testcut.Sheet, pass int) (all []artwork.Stroke) {
	for _, r := range s.Passes.Loads[0].Passes[pass-1].Runs {
		all = append(all, s.Strokes[r.Stroke])
	}
	return all
}

// Cells lie in rows of four from the lower left, 23 by 25 mm apart, on a piece of 130 mm;
// each is a pass at its own force and speed, in their order. What is drawn or cut is a
// half-moon of 12 mm that holds a keyhole of 5 mm (design: test cut); of folds and tears it is
// a line across a bar of 15 mm, whose bars are cut out last of all. The two marks go with the
// cell in the middle, or with the bars. By hand: 2 lines a cell, 6 of marks.
func TestCellsOfATestCut(t *testing.T) {
	for _, c := range []struct {
		stock      string
		op         artwork.Operation
		w, h       float64
		own, bars  int // lines of a cell, and of the pass that cuts the bars out
		marked, of int // the pass of the marks, and of how many
	}{
		{"film-removable-610", artwork.KissCut, 12, 6, 2, 0, 6, 10}, {"card-160-a4", artwork.ThroughCut, 12, 6, 2, 0, 6, 10}, {"card-160-a4", artwork.Pen, 12, 6, 2, 0, 6, 10},
		{"card-160-a4", artwork.Score, 15, 10, 1, 10, 11, 11}, {"card-160-a4", artwork.Perforate, 15, 10, 1, 10, 11, 11},
	} {
		t.Run(string(c.op), func(t *testing.T) {
			q := asked(t, c.stock, c.op)
			s := made(t, q)
			all := s.Passes.Loads[0].Passes
			if l := s.Layout.Loads[0]; len(all) != c.of || l.WidthMM != 130 || l.LengthMM != 130 || len(s.Cells) != 10 {
				t.Fatalf("%d passes on %g × %g mm", len(all), l.WidthMM, l.LengthMM)
			}
			for i, cell := range s.Cells {
				corner := geometry.Pt(26+23*float64(i%4), 24+25*float64(i/4))
				want := geometry.BoxAround(corner, corner.Add(geometry.Pt(c.w, c.h)))
				if cell.Pass != i+1 || cell.Cell != q.Cells[i] || cell.Box.Min.Dist(want.Min)+cell.Box.Max.Dist(want.Max) > 1e-6 {
					t.Errorf("cell %d is %+v in %v, want %v", i+1, cell.Cell, cell.Box, want)
				}
				if set := all[i].Setting; set.ForceGF != q.Cells[i].ForceGF || set.SpeedMMS != q.Cells[i].SpeedMMS || all[i].Operation != c.op {
					t.Errorf("pass %d is %s at %g gf, %g mm/s", i+1, all[i].Operation, set.ForceGF, set.SpeedMMS)
				}
			}
			for i := range all {
				want := c.own
				if i == 10 {
					want = c.bars
				}
				if i+1 == c.marked {
					want += 6
				}
				if got := len(cutBy(s, i+1)); got != want {
					t.Errorf("pass %d runs %d lines, want %d", i+1, got, want)
				}
			}
			if c.bars > 0 && all[10].Operation != artwork.ThroughCut {
				t.Errorf("the bars are cut out by a %s", all[10].Operation)
			}
		})
	}
}

// The half-moon is half a disc of 12 mm. The keyhole in it is 5 mm long, with a head of 2.4 mm
// about a shaft of 1.2 mm, over the straight side. By hand: the head's disc less what the
// shaft covers of it, and the shaft.
func TestShapesOfACell(t *testing.T) {
	s := made(t, asked(t, "film-removable-610", artwork.KissCut))
	head, half := 1.2, 0.6
	off := math.Sqrt(head*head - half*half)
	hole := math.Pi*head*head - (head*head*math.Acos(off/head) - off*half) + 2*half*(5-head-off)
	corner := s.Cells[0].Box.Min
	for _, stroke := range cutBy(s, 1) {
		box, area := stroke.Path.Bounds(), math.Abs(stroke.Path.Area())
		want, wide := geometry.BoxAround(corner, corner.Add(geometry.Pt(12, 6))), math.Pi*36/2
		if box.Width() < 6 {
			want, wide = geometry.BoxAround(corner.Add(geometry.Pt(3.5, 1.1)), corner.Add(geometry.Pt(8.5, 3.5))), hole
		}
		if !stroke.Path.Closed || box.Min.Dist(want.Min)+box.Max.Dist(want.Max) > 1e-9 || math.Abs(area-wide) > 1e-9 {
			t.Errorf("a shape of %g mm² in %v, want %g in %v", area, box, wide, want)
		}
	}
}

// The marks are 100 mm from end line to end line, one across the feed and one along it, clear
// of the cells, and are never corrected by what came of those before: what is measured must not
// add up with a correction. By hand: they begin 6 mm
// from their corner, which is 12 mm from those of the piece, and their end lines are 5 mm.
func TestMarksOfATestCut(t *testing.T) {
	q := asked(t, "film-removable-610", artwork.KissCut)
	q.Machine.Lengths, q.Lengths = workshop.LengthsByFile, &trial.Marks{AcrossMM: 99, AlongMM: 101}
	s := made(t, q)
	across, along := s.Marks()
	for box, want := range map[geometry.Box]geometry.Box{
		across: geometry.BoxAround(geometry.Pt(18, 9.5), geometry.Pt(118, 14.5)), along: geometry.BoxAround(geometry.Pt(9.5, 18), geometry.Pt(14.5, 118)),
	} {
		if box != want {
			t.Errorf("a mark lies in %v, want %v", box, want)
		}
		for _, cell := range s.Cells {
			if cell.Box.Overlaps(box) {
				t.Errorf("a mark in %v lies on the cell in %v", box, cell.Box)
			}
		}
	}
	if s.Passes.Stretch != nil {
		t.Errorf("the marks are corrected by %+v", *s.Passes.Stretch)
	}
	long := 0.0
	for _, stroke := range cutBy(s, 6) {
		if !stroke.Path.Closed {
			long += stroke.Path.Length()
		}
	}
	if math.Abs(long-220) > 1e-9 {
		t.Errorf("the marks are %g mm long in all, want 220", long)
	}
}

// Where nobody knows how the stock is cut through, folds are tested without their bars.
func TestFoldsWithoutACut(t *testing.T) {
	q := asked(t, "card-160-a4", artwork.Score)
	var others []workshop.Setting
	for _, set := range q.Settings {
		if set.Operation != artwork.ThroughCut {
			others = append(others, set)
		}
	}
	q.Settings = others
	s := made(t, q)
	if n := len(s.Passes.Loads[0].Passes); n != 10 || len(cutBy(s, 6)) != 7 || len(cutBy(s, 5)) != 1 {
		t.Errorf("%d passes, %d lines with the marks", n, len(cutBy(s, 6)))
	}
	for _, stroke := range s.Strokes {
		if stroke.Operation == artwork.ThroughCut && !stroke.Path.Empty() {
			t.Errorf("a bar is cut out: %s", stroke.Path)
		}
	}
}
