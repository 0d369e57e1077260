package irregular_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/laid"
	"knifedesk/geometry/nest/irregular"
	"knifedesk/geometry/planar"
)

// check holds a layout against its problem, apart from all that nesting does:
// the pieces are turned and moved as the placements say, and compared by the
// planar kernel and by distances between sides.
func check(t testing.TB, p irregular.Problem, l irregular.Layout) {
	t.Helper()
	var placed []planar.Polygons
	count := map[[2]int]int{}
	end := 0.0
	for _, at := range l.Placements {
		count[[2]int{at.Piece, at.Copy}]++
		piece := p.Pieces[at.Piece]
		turn := 0.0
		if len(piece.Turns) > 0 {
			turn = piece.Turns[at.Turn].Degrees
		}
		one := moved(piece.Area, turn, at.XMM, at.YMM)
		placed = append(placed, one)
		low, high := laid.Bounds(one).Min, laid.Bounds(one).Max
		edge := p.EdgeMM - 1e-4 // a step of the grid, to which pieces are rounded
		length := p.Sheet.LengthMM
		if length == 0 || at.Sheet == l.Sheets-1 {
			length = l.LengthMM
		}
		if at.Sheet == l.Sheets-1 {
			end = max(end, high.Y+p.EdgeMM)
		}
		if low.X < edge || low.Y < edge || high.X > p.Sheet.WidthMM-edge || high.Y > length-edge {
			t.Errorf("%+v: from %v to %v leaves the sheet", at, low, high)
		}
	}
	if math.Abs(end-l.LengthMM) > 1e-4+p.ClearanceMM/100 {
		t.Errorf("length is said to be %v mm and is %v", l.LengthMM, end)
	}
	for sheet := range l.Sheets {
		if !slices.ContainsFunc(l.Placements, func(at irregular.Placement) bool { return at.Sheet == sheet }) {
			t.Errorf("nothing lies on sheet %d of %d", sheet, l.Sheets)
		}
	}
	for i, piece := range p.Pieces {
		for k := range piece.Demand {
			if count[[2]int{i, k}] != 1 {
				t.Errorf("copy %d of piece %d is there %d times", k, i, count[[2]int{i, k}])
			}
		}
	}
	for i := range placed {
		for k := range i {
			if l.Placements[i].Sheet == l.Placements[k].Sheet {
				laid.Apart(t, placed[i], placed[k], p.ClearanceMM, 1e-4, l.Placements[i], l.Placements[k])
			}
		}
	}
}

func moved(area planar.Polygons, degrees, x, y float64) planar.Polygons {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	if math.Mod(degrees, 90) == 0 {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	ring := func(in []geometry.Point) []geometry.Point {
		out := make([]geometry.Point, len(in))
		for i, p := range in {
			out[i] = geometry.Pt(p.X*cos-p.Y*sin+x, p.X*sin+p.Y*cos+y)
		}
		return out
	}
	var out planar.Polygons
	for _, p := range area {
		q := planar.Polygon{Outer: ring(p.Outer)}
		for _, h := range p.Holes {
			q.Holes = append(q.Holes, ring(h))
		}
		out = append(out, q)
	}
	return out
}
