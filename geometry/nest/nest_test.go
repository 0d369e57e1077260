package nest_test

import (
	"context"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/nest"
)

// By hand: tags of 90 × 55 with a gap of 4 on 190 × 277, one column of them
// turned beside another.
func TestEqual(t *testing.T) {
	tag, sheet := nest.Size{WidthMM: 90, LengthMM: 55}, nest.Size{WidthMM: 190, LengthMM: 277}
	for _, c := range []struct {
		name         string
		allowed      nest.Turns
		n            int
		full, sheets int
	}{
		{"straight", nest.Turns{Straight: true}, 33, 8, 5},
		{"turned", nest.Turns{Quarter: true}, 33, 6, 6},
		{"mixed", nest.Turns{Straight: true, Quarter: true, Mixed: true}, 33, 9, 4},
		{"fewer than a sheet holds", nest.Turns{Straight: true}, 3, 3, 1},
	} {
		got, ok := nest.Equal(nil, tag, sheet, 4, c.n, c.allowed)
		if !ok || len(got.Full) != c.full || got.Sheets() != c.sheets {
			t.Errorf("%s: %d on a sheet, %d sheets; want %d and %d", c.name, len(got.Full), got.Sheets(), c.full, c.sheets)
		}
	}
	if _, ok := nest.Equal(nil, sheet, tag, 4, 1, nest.Turns{Straight: true, Quarter: true}); ok {
		t.Error("a sheet was put on a tag")
	}
}

// By hand: a tag in the corner of a sheet, and a sheet that is taken whole.
func TestFree(t *testing.T) {
	sheet := geometry.Box{Max: geometry.Pt(210, 297)}
	tag := geometry.Box{Min: geometry.Pt(10, 10), Max: geometry.Pt(100, 65)}
	outline := func(b geometry.Box) []nest.Outline {
		c := b.Corners()
		return []nest.Outline{{Points: c[:], Closed: true}}
	}
	if got, want := nest.Free(nil, sheet, 4, outline(tag)), (geometry.Box{Min: geometry.Pt(0, 69), Max: geometry.Pt(210, 297)}); got != want {
		t.Errorf("%v is free, want %v", got, want)
	}
	if got := nest.Free(nil, sheet, 4, outline(sheet)); !got.Empty() {
		t.Errorf("%v is free of a full sheet", got)
	}
}

// By hand: a U of 100 × 100 with legs 40 wide on a base of 20 leaves its mouth of 20 × 80
// free, and neither leg.
func TestFreeWithinAShape(t *testing.T) {
	u := nest.Outline{Closed: true, Points: []geometry.Point{
		{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 60, Y: 100}, {X: 60, Y: 20}, {X: 40, Y: 20}, {X: 40, Y: 100}, {X: 0, Y: 100},
	}}
	sheet := geometry.Box{Max: geometry.Pt(100, 100)}
	if got, want := nest.Free(nil, sheet, 0, []nest.Outline{u}), (geometry.Box{Min: geometry.Pt(40, 20), Max: geometry.Pt(60, 100)}); got != want {
		t.Errorf("%v is free, want %v", got, want)
	}
	if got := nest.FreeAcross(nil, sheet, 0, []nest.Outline{u}); !got.Empty() && got.Height() > 0 {
		t.Errorf("%v is free across", got)
	}
}

// By hand: a frame of 20 round a yard of 160 × 60, in which a block of 60 × 60 stands and
// leaves 50 to its left and right; beside the frame there is less.
func TestFreeWithinAYard(t *testing.T) {
	frame := nest.Outline{Closed: true, Points: []geometry.Point{
		{X: 0, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 100}, {X: 100, Y: 100}, {X: 100, Y: 80}, {X: 180, Y: 80}, {X: 180, Y: 20},
		{X: 20, Y: 20}, {X: 20, Y: 80}, {X: 100, Y: 80}, {X: 100, Y: 100}, {X: 0, Y: 100},
	}}
	c := (geometry.Box{Min: geometry.Pt(80, 20), Max: geometry.Pt(130, 80)}).Corners()
	sheet := geometry.Box{Max: geometry.Pt(200, 100)}
	got := nest.Free(nil, sheet, 0, []nest.Outline{frame, {Points: c[:], Closed: true}})
	if want := (geometry.Box{Min: geometry.Pt(20, 20), Max: geometry.Pt(80, 80)}); got != want {
		t.Errorf("%v is free, want %v", got, want)
	}
}

// What lies among taken cells costs little, however long its lines are: 8,000 of 400 mm
// beside each other once took 800 steps each. Each crosses 26 rows of tiles and is looked at
// in each of them, and row by row where it ends.
func TestFreeBesideManyLines(t *testing.T) {
	const lines = 8000
	zigzag := nest.Outline{Closed: true}
	for i := range lines {
		zigzag.Points = append(zigzag.Points, geometry.Pt(50+400*float64(i)/lines, 50+400*float64(i%2)))
	}
	b := (*budget.Budget)(nil).Allow(1 << 40)
	sheet := geometry.Box{Max: geometry.Pt(1000, 500)}
	got := nest.Free(b, sheet, 5, []nest.Outline{zigzag})
	if want := (geometry.Box{Min: geometry.Pt(455-400.0/lines, 0), Max: geometry.Pt(1000, 500)}); got != want {
		t.Errorf("%v is free, want %v", got, want)
	}
	if most := 160 * lines; b.Spent() > most {
		t.Errorf("%d steps, want %d at most", b.Spent(), most)
	}
}

func TestNestStops(t *testing.T) {
	all := nest.Turns{Straight: true, Quarter: true, Mixed: true}
	scattered := make([]nest.Outline, 3000)
	for i := range scattered {
		at := geometry.Pt(float64(i*37%3000), float64(i*91%3001))
		scattered[i] = nest.Outline{Points: []geometry.Point{at, at.Add(geometry.Pt(3, 0)), at.Add(geometry.Pt(3, 3))}, Closed: true}
	}
	for name, compute := range map[string]func(*budget.Budget){
		"slivers": func(b *budget.Budget) {
			nest.Equal(b, nest.Size{WidthMM: 0.5, LengthMM: 29}, nest.Size{WidthMM: 190, LengthMM: 277}, 0, 100_000, all)
		},
		"free among many": func(b *budget.Budget) {
			nest.Free(b, geometry.Box{Max: geometry.Pt(3010, 3010)}, 1, scattered)
		},
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error { return budget.Run(ctx, compute) })
		})
	}
}
