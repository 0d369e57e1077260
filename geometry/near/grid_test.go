package near_test

import (
	"context"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/near"

	"pgregory.net/rapid"
)

// The grid finds the points that a look at each finds.
func TestGridFindsWhatIsThere(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]float64{0.7, 1, 3, 50}).Draw(t, "side")
		pts := rapid.SliceOfN(whole(12), 0, 60).Draw(t, "points")
		grid := near.NewGrid(side, whole(5).Draw(t, "origin"))
		for i, p := range pts {
			grid.Add(i, p)
		}
		q := whole(20).Draw(t, "query")
		var got, want []int
		grid.Near(nil, q, side, func(i int) { got = append(got, i) })
		for i, p := range pts {
			if p.Dist(q) <= side {
				want = append(want, i)
			}
		}
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Fatalf("within %g of %v: %v, want %v", side, q, got, want)
		}
	})
}

func TestGridStops(t *testing.T) {
	grid := near.NewGrid(1, geometry.Point{})
	for i := range 1_000_000 {
		grid.Add(i, geometry.Pt(float64(i%10)/20, 0))
	}
	stop.Check(t, func(ctx context.Context) error {
		return budget.Run(ctx, func(b *budget.Budget) {
			for range 20 {
				grid.Near(b, geometry.Point{}, 1, func(int) {})
			}
		})
	})
	b := (*budget.Budget)(nil).Allow(100)
	seen := 0
	if grid.Near(b, geometry.Point{}, 1, func(int) { seen++ }); seen != 100 {
		t.Errorf("%d points seen in 100 steps", seen)
	}
}
