package layout_test

import (
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// together lays batches out on common loads.
func together(t *testing.T, req layout.Request, batches ...layout.Batch) *layout.Joint {
	t.Helper()
	j, err := layout.Together(t.Context(), batches, req, 0)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// counted counts the copies of each batch on all loads.
func counted(j *layout.Joint, batches int) []int {
	n := make([]int, batches)
	for i, load := range j.Loads {
		for k := range load.Placements {
			n[j.Of[i][k]]++
		}
	}
	return n
}

// Three batches on a roll with lead and tail of 50: two of 100 × 200 mm, one of 400 × 300,
// and one wider and longer than any run. The last lies nowhere and is told; the others lie
// on one load apart from each other, and what they take of the roll is accounted for. A
// roll that is shorter than that by a millimetre holds none of it, and says so; one of
// just that length does.
func TestBatchesShareARoll(t *testing.T) {
	req := on(t, "film-removable-610", "wide-610", 1)
	req.Stock.UsableWidthMM, req.Stock.LeadMM, req.Stock.TailMM, req.Stock.LengthMM = 590, 50, 50, 25000
	batches := []layout.Batch{{Piece: piece(100, 200), Copies: 2}, {Piece: piece(900, 30000), Copies: 1}, {Piece: piece(400, 300), Copies: 1}}
	j := together(t, req, batches...)
	if !slices.Equal(j.Left, []int{1}) || !slices.Equal(counted(j, 3), []int{2, 0, 1}) || len(j.Loads) != 1 {
		t.Fatalf("%d loads hold %v, left %v", len(j.Loads), counted(j, 3), j.Left)
	}
	load := j.Loads[0]
	for i, p := range load.Placements {
		for _, q := range load.Placements[:i] {
			if p.Bounds.Grow(req.Stock.GapMM - 1e-9).Overlaps(q.Bounds) {
				t.Errorf("%v lies nearer to %v than %g mm", p.Bounds, q.Bounds, req.Stock.GapMM)
			}
		}
	}
	if j.Usage.RollMM != load.LengthMM || j.Usage.RollMM < 100+300 || j.Usage.RollMM > 100+300+200+4*req.Stock.GapMM || j.Usage.StockMM2 <= 0 {
		t.Errorf("%g mm of roll and %g mm² of a load of %g mm", j.Usage.RollMM, j.Usage.StockMM2, load.LengthMM)
	}
	for _, c := range []struct {
		left  float64
		holds bool
	}{{load.LengthMM, true}, {load.LengthMM - 1, false}} {
		short := req
		short.Stock.LengthMM = c.left
		got := together(t, short, batches...)
		told := slices.ContainsFunc(got.Findings, func(f finding.Finding) bool { return f.Code == finding.RollTooShort })
		if told == c.holds || (len(got.Loads) > 0) != c.holds || len(got.Of) != len(got.Loads) || (got.Usage.RollMM > 0) != c.holds {
			t.Errorf("%g mm left: %d loads, usage %+v, findings %+v", c.left, len(got.Loads), got.Usage, got.Findings)
		}
	}
	if none := together(t, req, batches[1]); len(none.Loads) > 0 || len(none.Findings) > 0 || none.Usage.RollMM != 0 || !slices.Equal(none.Left, []int{0}) {
		t.Errorf("what fits nowhere: %+v", none)
	}
}

// By hand: of A4 with margins of 10 mm all round, a gap of 4 and copies of 90 × 130, four
// fill a sheet. Five, of two batches, take two sheets.
func TestBatchesShareSheets(t *testing.T) {
	req := onA4(t, "card-220-a4", 1)
	req.Stock.GapMM = 4
	j := together(t, req, layout.Batch{Piece: piece(90, 130), Copies: 3}, layout.Batch{Piece: piece(90, 130), Copies: 2})
	if !slices.Equal(counted(j, 2), []int{3, 2}) || j.Usage.Sheets != 2 || j.Usage.RollMM != 0 {
		t.Errorf("%v on %d sheets, %g mm of roll", counted(j, 2), j.Usage.Sheets, j.Usage.RollMM)
	}
	usable := geometry.Box{Min: geometry.Pt(10, 10), Max: geometry.Pt(200, 287)}
	for _, load := range j.Loads {
		if len(load.Sheets) > 1 {
			continue // beside each other on a mat
		}
		for _, p := range load.Placements {
			if !usable.Grow(1e-9).ContainsBox(p.Bounds) {
				t.Errorf("a copy at %v, usable %v", p.Bounds, usable)
			}
		}
	}
}

// Two bars that stand apart, on panels that leave no room beyond their ends: the marks of a
// seam lie in what is cut away between the bars. By hand, of marks of 6 mm, 3 mm off what
// is kept: nothing fits into 12 mm, one mark into 24, and from 45 on two, which are then at
// least two of their size apart.
func TestMarksInWasteKeepApart(t *testing.T) {
	for gap, want := range map[float64]int{12: 0, 24: 1, 45: 2, 100: 2, 300: 2} {
		req := onRoll(t)
		req.Stock.LongestRunMM, req.Stock.Join = 1840, &workshop.Join{Joint: workshop.Overlap, OverlapMM: 10}
		l := place(t, charted(t, &req, rect(0, 0, 700, 1170), rect(700+gap, 0, 1740, 1170)), req)
		if l.Panels == nil || len(l.Panels.List) != 2 {
			t.Fatalf("gap %g: %+v", gap, l.Findings)
		}
		for i, p := range l.Panels.List {
			var at []geometry.Box
			for _, s := range l.Maps[i].Strokes {
				if isMark(l.Maps[i], s.Path.Bounds()) && s.Path.Bounds().Width() < 20 {
					at = append(at, s.Path.Bounds())
				}
			}
			if len(at) != want || p.Marks != want {
				t.Errorf("gap %g: %s has %d marks, it says %d, want %d", gap, p.Code, len(at), p.Marks, want)
			}
			for k, m := range at {
				if m.Min.X < 703 || m.Max.X > 700+gap-3 {
					t.Errorf("gap %g: a mark at %v", gap, m)
				}
				if k > 0 && m.Centre().Dist(at[0].Centre()) < 12 {
					t.Errorf("gap %g: marks at %v and %v", gap, at[0], m)
				}
			}
		}
	}
}
