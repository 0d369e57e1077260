package layout_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
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

// Each case saves a sheet of two: all alike, since the grain and the caller want it so,
// mirrored, and in the holes of others.
func TestNestingKeepsToTheRules(t *testing.T) {
	const ell, vee = "M0 0H80V12H12V80H0Z", "M0 0H16L40 48L64 0H80L40 80Z"
	const kit, hole = "M0 0H80V80H0Z M110 20H150V60H110Z", "M10 10H70V70H10Z"
	oneTurn := func(r *layout.Request, p *layout.Piece) { r.OneTurn, p.TurnedMM = true, 100 }
	for _, c := range []struct {
		name          string
		piece         layout.Piece
		width, length float64 // usable
		change        func(*layout.Request, *layout.Piece)
	}{
		{"one turn", shaped(t, vee, ""), 85, 130, oneTurn},
		{"mirrored", shaped(t, ell, ""), 100, 100, func(r *layout.Request, p *layout.Piece) {
			mirror := true
			r.Mirror = &mirror
			oneTurn(r, p)
		}},
		{"in a hole", shaped(t, kit, hole), 245, 81, oneTurn},
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
				if at.TurnDeg != 0 {
					t.Errorf("%s: copy %d is turned by %g°", c.name, at.Copy, at.TurnDeg)
				}
			}
		}
	}
}

// A placement turns the piece about its corner, anticlockwise, and its rectangle lies
// where the turned corners say.
func TestTurnedRectanglesBeginAtTheirLowestCorner(t *testing.T) {
	p := piece(60, 70)
	for quarter := range 4 {
		box := geometry.EmptyBox()
		sin, cos := math.Sincos(float64(quarter) * math.Pi / 2)
		for _, c := range [][2]float64{{0, 0}, {60, 0}, {60, 70}, {0, 70}} {
			box = box.Include(geometry.Pt(c[0]*cos-c[1]*sin, c[0]*sin+c[1]*cos))
		}
		if got := layout.Lowest(p, quarter); got.Dist(box.Min) > 1e-9 {
			t.Errorf("%d quarters: %v, want %v", quarter, got, box.Min)
		}
	}
}

// The grain, the hold and the caller say which turns copies may take; the turn of the
// rows is tried first.
func TestTurnsOfNesting(t *testing.T) {
	for _, c := range []struct {
		straight, quarter, one bool
		first                  int
		want                   string
	}{
		{true, true, false, 0, "[[0 2 1 3]]"}, {true, true, false, 1, "[[1 3 0 2]]"},
		{true, false, false, 0, "[[0 2]]"}, {false, true, false, 1, "[[1 3]]"},
		{true, true, true, 1, "[[1] [0]]"}, {true, false, true, 0, "[[0]]"}, {false, true, true, 1, "[[1]]"},
	} {
		if got := fmt.Sprint(layout.TurnsOf(c.straight, c.quarter, c.one, c.first)); got != c.want {
			t.Errorf("%+v: %s", c, got)
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

// A nesting tells how far it is, up to all of it, where two searches follow one another.
func TestNestingTellsHowFarItIs(t *testing.T) {
	p := shaped(t, "M0 0H60L0 60Z", "")
	req := on(t, "film-removable-610", "wide-610", 37)
	req.Nesting = layout.Quick
	var told []float64
	ctx := budget.Telling(t.Context(), func(share float64) { told = append(told, share) })
	if _, err := layout.Place(ctx, p, req); err != nil {
		t.Fatal(err)
	}
	if len(told) < 4 || !slices.IsSorted(told) || told[0] <= 0 || told[0] > 0.1 || told[len(told)-1] != 1 {
		t.Errorf("told %v", told)
	}
}
