package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/golden"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// Where copies lie, and what is taken from the stores for them, is what was looked at: on
// sheets, rolls and mats, in rows and nested, whole and in panels, and where nothing fits.
func TestLayoutsAreAsTheyWere(t *testing.T) {
	ring := []geometry.Path{rect(0, 0, 60, 40), rect(8, 8, 52, 32), rect(20, 14, 40, 26), geometry.Circle(geometry.Pt(80, 15), 12)}
	wall := func(r *layout.Request) { r.OnWall = true }
	for _, c := range []struct {
		name, stock string
		copies      int
		lines       []geometry.Path
		change      func(*layout.Request)
	}{
		{"sheets", "card-220-a4", 7, ring[:3], nil},
		{"turned-alike", "card-220-a4", 5, ring, func(r *layout.Request) { r.OneTurn = true }},
		{"roll", "film-removable-610", 23, ring, wall},
		{"too-large", "card-160-a4", 1, []geometry.Path{rect(0, 0, 250, 320)}, nil},
		{"nearly-too-large", "card-160-a4", 2, []geometry.Path{rect(0, 0, 195, 285)}, nil},
		{"panels", "film-removable-610", 2, []geometry.Path{rect(0, 0, 900, 700), rect(100, 100, 800, 600), geometry.Circle(geometry.Pt(450, 350), 200)},
			func(r *layout.Request) { r.Panels, r.OnWall = layout.PanelsAllowed, true }},
		{"panels-asked", "film-removable-610", 1, []geometry.Path{rect(0, 0, 900, 700)}, nil},
		{"heat-film", "film-heat-500", 4, ring, nil},
	} {
		if _, ok := workshop.Example().Stock(c.stock); !ok {
			t.Fatalf("no stock %s", c.stock)
		}
		req := on(t, c.stock, "wide-610", c.copies)
		p := charted(t, &req, c.lines...)
		if c.change != nil {
			c.change(&req)
		}
		golden.Hold(t, c.name, retold(place(t, p, req)))
	}
}

// retold is a layout in lines, in mm to two decimals.
func retold(l *layout.Layout) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("mirrored %t", l.Mirrored)
	for _, one := range l.Loads {
		line("load %d of map %d: %.2f × %.2f on mat %q, sheets %.2f", one.Number, one.Map, one.WidthMM, one.LengthMM, one.MatID, one.Sheets)
		for _, p := range one.Placements {
			line("  copy %d turned %.2f within %s, its origin at %s", p.Copy, p.TurnDeg, boxText(p.Bounds), pointText(p.Transform.Apply(geometry.Point{})))
		}
	}
	u := l.Usage
	line("%d sheets, %.2f mm of roll, %.2f mm², bound %.3f, waste %.4f %.4f %.4f", u.Sheets, u.RollMM, u.StockMM2, u.AreaBound, u.NestWaste, u.ArtWaste, u.ProcessWaste)
	line("tape %.2f mm², %.3f m in %d pieces of %d strips, %s", u.TapeMM2, u.TapeM, u.TapePieces, u.TapeStrips, u.TapeTack)
	for _, box := range []*geometry.Box{u.Offcut, u.OffcutFullWidth} {
		if box != nil {
			line("offcut %s", boxText(*box))
		}
	}
	if p := l.Panels; p != nil {
		line("panels joined by %+v, crossing %.2f, in equal parts %.2f", p.Join, p.CrossedMM, p.EqualMM)
		for i, one := range p.List {
			line("  %s: %s", one.Code, boxText(one.Box))
			for _, s := range l.Maps[i].Strokes {
				line("    %q %s %.2f mm within %s", s.Added, s.Operation, s.Path.Length(), boxText(s.Path.Bounds()))
			}
		}
	}
	if n := l.Nested; n != nil {
		line("nested %.3v", *n)
	}
	for _, s := range l.Savings {
		line("saving %+v", s)
	}
	for _, f := range l.Findings {
		line("found %s (%s) × %d: %v", f.Code, f.Severity, f.Count, f.Values)
	}
	for _, q := range l.Questions {
		line("asked %s", q.ID)
		for _, a := range q.Answers {
			line("  %s: %.2f × %.2f", a.ID, a.WidthMM, a.HeightMM)
		}
	}
	return b.String()
}

func boxText(b geometry.Box) string { return pointText(b.Min) + "–" + pointText(b.Max) }

// pointText writes no zero as negative.
func pointText(p geometry.Point) string {
	return strings.ReplaceAll(fmt.Sprintf("(%.2f, %.2f)", p.X, p.Y), "-0.00", "0.00")
}
