package layout_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// triangle is a right triangle of 60 mm, without a weed border or with one of 5 mm.
func triangle(border float64) layout.Piece {
	corner := geometry.Box{Max: geometry.Pt(60, 60)}
	shape := geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(60, 0), geometry.Pt(0, 60))
	p := layout.Piece{Bounds: corner.Grow(border), Kept: corner, NetMM2: 1800, FootMM2: 1800, SolidMM2: 1800, Outline: []geometry.Path{shape}, Single: true}
	if border > 0 {
		p.FootMM2, p.Outline = 70*70, []geometry.Path{p.Bounds.Path()}
	}
	return p
}

// Twenty triangles of 1800 mm² need 36000/590 = 61.0 mm of roll, with lead and tail
// 161.0 (worked out by hand), whatever border they have. One needs its own 60 mm.
func TestBoundIsOne(t *testing.T) {
	for _, c := range []struct {
		border float64
		copies int
		want   float64
	}{{0, 20, 100 + 36000.0/590}, {5, 20, 100 + 36000.0/590}, {0, 1, 160}} {
		l := place(t, triangle(c.border), on(t, "film-removable-610", "wide-610", c.copies))
		if got := l.Usage.AreaBound; math.Abs(got-c.want) > 1e-9 || got > l.Usage.RollMM {
			t.Errorf("border %g, %d copies: bound %g of %g mm, want %g", c.border, c.copies, got, l.Usage.RollMM, c.want)
		}
	}
	// Check values, row 50: 33 tags with half a gap round each, 94·59 mm², go into no
	// less than four areas of 194 × 281.
	if got := place(t, piece(90, 55), onA4(t, "card-160-a4", 33)).Usage.AreaBound; got != 4 {
		t.Errorf("33 tags: bound %g sheets, want 4", got)
	}
}

// By hand: below the long side of a right triangle in the corner of a sheet the
// largest rectangle beside it reaches into its box. Of a sheet of 210 × 297 with a
// triangle of 180 at (10, 10), gap 4, the part above the triangle is 210 × 103. That
// to the right of y = 190 − t, x from 194 − t … is no larger.
func TestOffcutIsTrueOfTheShapes(t *testing.T) {
	p := layout.Piece{
		Bounds: geometry.Box{Max: geometry.Pt(180, 180)}, NetMM2: 16200, FootMM2: 16200, Single: true,
		Outline: []geometry.Path{geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(180, 0), geometry.Pt(0, 180))},
	}
	u := place(t, p, onA4(t, "card-160-a4", 1)).Usage
	// A corner at (x, y) of the slant, moved by the gap both ways, x + y = 200 + 8,
	// leaves (210 − x)(297 − y): the most where 210 − x = 297 − y, 149.5 square.
	if u.Offcut == nil || math.Abs(u.Offcut.Width()*u.Offcut.Height()-149.5*149.5) > 100 {
		t.Errorf("offcut %v, want one of 149.5 × 149.5", u.Offcut)
	}
	if u.OffcutFullWidth == nil || *u.OffcutFullWidth != (geometry.Box{Min: geometry.Pt(0, 194), Max: geometry.Pt(210, 297)}) {
		t.Errorf("full width %v, want the 103 mm above the piece", u.OffcutFullWidth)
	}
}

// The three shares differ and each says of what it is one; the words go by what the
// stock is and what is made of it.
func TestWasteInWords(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range []struct {
		stock   string
		stencil bool
	}{{"card-160-a4", false}, {"film-removable-610", false}, {"stencil-a3", true}} {
		req := on(t, c.stock, "wide-610", 6)
		req.Stencil = c.stencil
		u := place(t, piece(90, 55), req).Usage
		want := []float64{u.NestWaste, u.ArtWaste, u.ProcessWaste}
		for i, w := range u.Wastes {
			if w.Share != want[i] || w.Means == "" {
				t.Errorf("%s: %+v, want a share of %g", c.stock, w, want[i])
			}
		}
		seen[u.Wastes[2].Means] = true
	}
	if len(seen) != 3 {
		t.Errorf("sheet, roll and stencil share words: %v", seen)
	}
}

// Work of 400 mm takes two strips of tape 300 mm wide that overlap by 10 mm: 2 · 1.02 m
// of tape over a piece a metre long, which cover 410 mm together.
func TestTapeInStrips(t *testing.T) {
	for width, want := range map[float64]struct {
		strips  int
		m, area float64
	}{0: {1, 1.02, 408_000}, 300: {2, 2.04, 418_200}, 400: {1, 1.02, 408_000}, 205: {2, 2.04, 418_200}, 204: {3, 3.06, 428_400}} {
		req := on(t, "film-removable-610", "wide-610", 1)
		req.Stock.TapeWidthMM = width
		u := place(t, piece(400, 1000), req).Usage
		if u.TapeStrips != want.strips || u.TapePieces != 1 || math.Abs(u.TapeM-want.m) > 1e-9 || math.Abs(u.TapeMM2-want.area) > 1e-6 {
			t.Errorf("tape of %g mm: %+v, want %+v", width, u, want)
		}
	}
}

// A stock's way of being held changes nothing of what the stock is.
func TestHoldsGoRound(t *testing.T) {
	s, _ := workshop.Example().Stock("card-160-a4")
	rollers, ok := s.HeldBy(workshop.Rollers)
	back, ok2 := rollers.HeldBy(workshop.Mat)
	if !ok || !ok2 || rollers.UsableWidthMM != 190 || back.UsableWidthMM != 200 || back.LeastMarginMM != 2 || back.MatTack != workshop.LowTack {
		t.Errorf("%+v, %+v", rollers, back)
	}
}
