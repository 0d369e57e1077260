package share_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// Two kinds of corner pieces that fit into each other: by their rectangles they take two
// sheets of card, by their true shapes one. Held by distances of all sides from all others.
func TestNestedByTrueShapesASheetIsSaved(t *testing.T) {
	s := onStock(t, "card-220-a4", weeding.Pieces)
	corner := func(w, h, arm float64) geometry.Path {
		return geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(w, 0), geometry.Pt(w, arm), geometry.Pt(arm, arm), geometry.Pt(arm, h), geometry.Pt(0, h))
	}
	s.add(t, 2, s.cuts(corner(150, 130, 40))...)
	s.add(t, 2, s.cuts(corner(140, 120, 35))...)
	rows := s.lay(t)
	s.req.Layout.Nesting = layout.Quick
	nested := s.lay(t)
	if rows.Usage.Sheets != 2 || nested.Usage.Sheets != 1 || !nested.Nested.Better {
		t.Fatalf("%d sheets in rows, %d nested: %+v", rows.Usage.Sheets, nested.Usage.Sheets, nested.Nested)
	}
	holdsMaps(t, s, nested)
	holdsShares(t, s, nested)
	m, places := nested.Maps[0], nested.Loads[0].Places
	for i, p := range places {
		for _, q := range places[:i] {
			a, b := m.Strokes[p.Strokes.From].Path, m.Strokes[q.Strokes.From].Path
			if d := apart(a, b); d < s.req.Layout.Stock.GapMM-0.01 {
				t.Errorf("%s and %s lie %g mm apart", p.Name(), q.Name(), d)
			}
		}
	}
}

// apart is how near the sides of two polygons come, 0 where they cross.
func apart(a, b geometry.Path) float64 {
	least := math.Inf(1)
	p, q := points(a), points(b)
	for i := range p {
		for k := range q {
			least = min(least, sidesApart(p[i], p[(i+1)%len(p)], q[k], q[(k+1)%len(q)]))
		}
	}
	return least
}

func sidesApart(a, b, c, d [2]float64) float64 {
	pt := func(p [2]float64) geometry.Point { return geometry.Pt(p[0], p[1]) }
	side := func(p, q, r geometry.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	A, B, C, D := pt(a), pt(b), pt(c), pt(d)
	if side(A, B, C)*side(A, B, D) < 0 && side(C, D, A)*side(C, D, B) < 0 {
		return 0
	}
	to := func(p, q, r geometry.Point) float64 {
		along := q.Sub(p)
		k := 0.0
		if n := along.Dot(along); n > 0 {
			k = math.Max(0, math.Min(1, r.Sub(p).Dot(along)/n))
		}
		return r.Dist(p.Lerp(q, k))
	}
	return min(to(A, B, C), to(A, B, D), to(C, D, A), to(C, D, B))
}
