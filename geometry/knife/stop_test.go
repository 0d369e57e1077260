package knife_test

import (
	"context"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/knife"
)

func TestKnifeStops(t *testing.T) {
	waves, teeth := geometry.Path{}, geometry.Path{}
	for i := range 20_000 {
		x := float64(i) * 30
		waves.Segments = append(waves.Segments, geometry.CubicTo(geometry.Pt(x+40, 20), geometry.Pt(x-10, 20), geometry.Pt(x+30, 0)))
	}
	waves.Segments = append(waves.Segments, geometry.LineTo(waves.Start))
	waves.Closed = true
	for i := range 3000 {
		teeth.Segments = append(teeth.Segments, geometry.LineTo(geometry.Pt(float64(i), float64(i%2)*20)))
	}
	for name, compute := range map[string]func(*budget.Budget){
		"the axis along curves":  func(b *budget.Budget) { axisOf(b, knife.Blade{OffsetMM: 0.3}, waves, geometry.Point{}, 1) },
		"a line cut many rounds": func(b *budget.Budget) { axisOf(b, knife.Blade{OvercutMM: 1e5}, waves, geometry.Point{}, 100) },
		"dashes":                 func(b *budget.Budget) { knife.Dashes(b, teeth, 3, 1, func(int, geometry.Path) {}) },
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error { return budget.Run(ctx, compute) })
		})
	}
}

// By hand: what is cut, where it begins and where it ends.
func TestDashes(t *testing.T) {
	for _, c := range []struct {
		data       string
		dash, tie  float64
		cuts       int
		length     float64
		begin, end geometry.Point // of the last cut
	}{
		{"M0 0L10 0", 0, 1, 1, 10, geometry.Pt(0, 0), geometry.Pt(10, 0)},
		{"M0 0L10 0", 3, 1, 3, 8, geometry.Pt(8, 0), geometry.Pt(10, 0)},
		{"M0 0L4 0L4 6", 3, 2, 2, 6, geometry.Pt(4, 1), geometry.Pt(4, 4)},
		{"M0 0H1V1H0Z", 3, 0, 2, 4, geometry.Pt(0, 1), geometry.Pt(0, 0)},
	} {
		var cuts []geometry.Path
		knife.Dashes(nil, path(t, c.data), c.dash, c.tie, func(_ int, cut geometry.Path) { cuts = append(cuts, cut) })
		if len(cuts) != c.cuts {
			t.Errorf("%s: %d cuts, want %d", c.data, len(cuts), c.cuts)
			continue
		}
		sum, last := 0.0, cuts[len(cuts)-1]
		for _, cut := range cuts {
			sum += cut.Length()
		}
		near(t, c.data, sum, c.length, 1e-9)
		near(t, c.data+" begin", last.Start.Dist(c.begin), 0, 1e-9)
		near(t, c.data+" end", last.End().Dist(c.end), 0, 1e-9)
	}
}
