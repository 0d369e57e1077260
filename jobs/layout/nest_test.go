package layout_test

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/laid"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// shaped returns a piece whose outline is path data, with openings in it.
func shaped(t testing.TB, outline, openings string) layout.Piece {
	t.Helper()
	parse := func(data string) []geometry.Path {
		paths, err := geometry.ParsePathData(data)
		if err != nil {
			t.Fatal(err)
		}
		return paths
	}
	p := layout.Piece{Outline: parse(outline), Bounds: geometry.EmptyBox()}
	for _, path := range p.Outline {
		p.Bounds = p.Bounds.Union(path.Bounds())
		p.NetMM2 += math.Abs(path.Area())
	}
	if openings != "" {
		p.Openings = parse(openings)
	}
	for _, path := range p.Openings {
		p.NetMM2 -= math.Abs(path.Area())
	}
	p.FootMM2 = p.NetMM2
	return p
}

// checkNested holds that the copies of all loads lie as their transforms say, within
// the usable area, apart from each other, and are all there.
func checkNested(t testing.TB, p layout.Piece, req layout.Request, l *layout.Layout) {
	t.Helper()
	const slack = 0.03 // flattening of two curves, and rounding
	s := req.Stock
	side := (s.WidthMM - s.UsableWidthMM) / 2
	copies := 0
	for _, load := range l.Loads {
		var areas []planar.Polygons
		for _, at := range load.Placements {
			copies++
			if at.Copy != copies {
				t.Errorf("copy %d at place %d", at.Copy, copies)
			}
			areas = append(areas, areaOf(t, p, at.Transform))
			if box := p.Bounds.Path().Transform(at.Transform).Bounds(); box.Min.Dist(at.Bounds.Min) > 1e-6 || box.Max.Dist(at.Bounds.Max) > 1e-6 {
				t.Errorf("copy %d lies in %v, and says %v", copies, box, at.Bounds)
			}
		}
		laid.Check(t, areas, geometry.Box{
			Min: geometry.Pt(side, s.MarginMM+s.LeadMM), Max: geometry.Pt(s.WidthMM-side, load.LengthMM-s.MarginMM-s.TailMM),
		}, s.GapMM, slack)
	}
	if copies != req.Copies {
		t.Errorf("%d copies, want %d", copies, req.Copies)
	}
}

func areaOf(t testing.TB, p layout.Piece, m geometry.Affine) planar.Polygons {
	t.Helper()
	rings := func(paths []geometry.Path) planar.Region {
		r := planar.Region{Rule: planar.EvenOdd}
		for _, path := range paths {
			r.Rings = append(r.Rings, path.Transform(m).Flatten(0.01))
		}
		return r
	}
	area, err := planar.Difference(nil, rings(p.Outline), rings(p.Openings))
	if err != nil {
		t.Fatal(err)
	}
	return area
}

// Chevrons of 400 × 400 mm lie one in the other, 520 mm wide with a gap of 10, and no
// longer than one, where rows take two.
func TestNestedShapesTakeLessFilm(t *testing.T) {
	p := shaped(t, "M0 150 L300 0 H400 L100 150 L400 400 H300 Z", "")
	req := on(t, "film-removable-610", "wide-610", 2)
	for _, mirror := range []bool{false, true} {
		req.Nesting, req.Mirror = layout.Rows, &mirror
		rows := place(t, p, req)
		if rows.Nested != nil {
			t.Errorf("nested without being asked: %+v", rows.Nested)
		}
		req.Nesting = layout.Quick
		l := place(t, p, req)
		checkNested(t, p, req, l)
		lead := req.Stock.LeadMM + req.Stock.TailMM
		if math.Abs(rows.Usage.RollMM-lead-810) > 0.01 || math.Abs(l.Usage.RollMM-lead-400) > 0.01 {
			t.Errorf("%g mm of roll in rows, %g nested", rows.Usage.RollMM, l.Usage.RollMM)
		}
		if n := l.Nested; n == nil || !n.Better || math.Abs(n.SavedMM-410) > 0.01 {
			t.Errorf("%+v", n)
		}
		if l.Usage.RollMM < l.Usage.AreaBound-1e-6 {
			t.Errorf("%g mm are less than the bound of %g", l.Usage.RollMM, l.Usage.AreaBound)
		}
	}
}

// Each case saves a sheet of two: turned no further than the grain lets them, all
// alike, and in the holes of others.
func TestNestingKeepsToTheRules(t *testing.T) {
	const ell, vee = "M3 -2H63V13H18V68H3Z", "M0 0H16L40 48L64 0H80L40 80Z"
	const kit, hole = "M0 0H80V80H0Z M110 20H150V60H110Z", "M10 10H70V70H10Z"
	oneTurn := func(r *layout.Request, p *layout.Piece) { r.OneTurn, p.TurnedMM = true, 100 }
	for _, c := range []struct {
		name          string
		piece         layout.Piece
		width, length float64   // usable
		turns         []float64 // that may be seen
		change        func(*layout.Request, *layout.Piece)
	}{
		{"along the grain", shaped(t, ell, ""), 85, 100, []float64{0, 180}, func(_ *layout.Request, p *layout.Piece) { p.TurnedMM = 100 }},
		{"turned along the grain", shaped(t, ell, ""), 100, 85, []float64{90, 270}, func(_ *layout.Request, p *layout.Piece) { p.AcrossMM = 100 }},
		{"one turn", shaped(t, vee, ""), 85, 130, []float64{0}, oneTurn},
		{"in a hole", shaped(t, kit, hole), 245, 81, []float64{0}, oneTurn},
	} {
		req := onA4(t, "card-160-a4", 2)
		req.Stock.Hold, req.Stock.WidthMM, req.Stock.UsableWidthMM, req.Stock.LengthMM = workshop.Rollers, c.width+20, c.width, c.length+20
		c.change(&req, &c.piece)
		rows := place(t, c.piece, req)
		req.Nesting = layout.Quick
		l := place(t, c.piece, req)
		checkNested(t, c.piece, req, l)
		if !l.Nested.Better || l.Usage.Sheets >= rows.Usage.Sheets || l.Nested.SavedSheets != rows.Usage.Sheets-l.Usage.Sheets {
			t.Errorf("%s: %+v, %d sheets and %d in rows", c.name, l.Nested, l.Usage.Sheets, rows.Usage.Sheets)
		}
		for _, load := range l.Loads {
			for _, at := range load.Placements {
				if !slices.Contains(c.turns, at.TurnDeg) {
					t.Errorf("%s: copy %d is turned by %g°", c.name, at.Copy, at.TurnDeg)
				}
			}
		}
	}
}

// More copies than are nested at once lie in blocks along a roll, which keep their
// distance, and the last of which may be smaller.
func TestBlocksAreRepeatedAlongARoll(t *testing.T) {
	p := shaped(t, "M0 150 L300 0 H400 L100 150 L400 400 H300 Z", "")
	req := on(t, "film-removable-610", "wide-610", 7)
	req.Stock.LengthMM = 0
	l, err := layout.NestedBy(nil, p, req, 3, 2)
	if err != nil {
		t.Fatal(err)
	}
	checkNested(t, p, req, l)
	if want := 4*400 + 3*req.Stock.GapMM + req.Stock.LeadMM + req.Stock.TailMM; len(l.Loads) != 1 || math.Abs(l.Loads[0].LengthMM-want) > 0.01 {
		t.Errorf("%d loads, %g mm, want %g", len(l.Loads), l.Loads[0].LengthMM, want)
	}
}

// Rectangles lie best in rows, and nothing else is tried.
func TestNestingLeavesRowsWhereTheyAreBest(t *testing.T) {
	req := on(t, "film-removable-610", "wide-610", 9)
	p := piece(180, 90)
	rows := place(t, p, req)
	req.Nesting = layout.Thorough
	l := place(t, p, req)
	if l.Nested == nil || l.Nested.Better || l.Usage.RollMM != rows.Usage.RollMM {
		t.Errorf("%+v, %g mm and %g in rows", l.Nested, l.Usage.RollMM, rows.Usage.RollMM)
	}
}

// A nesting that is under way ends within 200 ms of being cancelled.
func TestNestingIsStopped(t *testing.T) {
	req := on(t, "film-removable-610", "wide-610", 60)
	req.Nesting = layout.Thorough
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	began := time.Now()
	_, err := layout.Place(ctx, shaped(t, "M0 0H60L0 60Z", ""), req)
	if took := time.Since(began); err == nil || took > 300*time.Millisecond {
		t.Errorf("%v after %v", err, took)
	}
}
