package near_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/near"

	"pgregory.net/rapid"
)

// The grid finds the points that a look at each finds, also once some are gone.
func TestGridFindsWhatIsThere(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]float64{0.7, 1, 3, 50}).Draw(t, "side")
		pts := rapid.SliceOfN(whole(12), 0, 60).Draw(t, "points")
		grid := near.NewGrid(side, whole(5).Draw(t, "origin"))
		for i, p := range pts {
			grid.Add(i, p)
		}
		there := func(i int) bool { return i%3 != 1 }
		for i, p := range pts {
			if !there(i) {
				grid.Remove(i, p)
			}
		}
		q := whole(20).Draw(t, "query")
		var got, want []int
		grid.Near(nil, q, side, func(i int) { got = append(got, i) })
		least, nearest := math.Inf(1), math.Inf(1)
		for i, p := range pts {
			if !there(i) {
				continue
			}
			if p.Dist(q) <= side {
				want = append(want, i)
			}
			least = min(least, max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)))
		}
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Fatalf("within %g of %v: %v, want %v", side, q, got, want)
		}
		grid.Around(nil, q, func(i int, dist float64) float64 {
			if !there(i) || dist != max(math.Abs(pts[i].X-q.X), math.Abs(pts[i].Y-q.Y)) {
				t.Fatalf("point %d at %g", i, dist)
			}
			nearest = min(nearest, dist)
			return nearest
		})
		if nearest != least {
			t.Fatalf("nearest to %v at %g, want %g", q, nearest, least)
		}
	})
}

// Around looks no farther than it has to: not at all of 10,000 points.
func TestAroundEndsEarly(t *testing.T) {
	grid := near.NewGrid(1, geometry.Point{})
	for i := range 10_000 {
		grid.Add(i, geometry.Pt(float64(i%100), float64(i/100)))
	}
	for _, p := range []geometry.Point{geometry.Pt(50, 50), geometry.Pt(-3, 50), geometry.Pt(102, 102)} {
		seen, least := 0, math.Inf(1)
		grid.Around(nil, p, func(_ int, dist float64) float64 {
			seen++
			least = min(least, dist)
			return least
		})
		if seen > 1000 {
			t.Errorf("from %v: %d points seen", p, seen)
		}
	}
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
				grid.Around(b, geometry.Point{}, func(int, float64) float64 { return math.Inf(1) })
			}
		})
	})
	b := (*budget.Budget)(nil).Allow(100)
	seen := 0
	if grid.Near(b, geometry.Point{}, 1, func(int) { seen++ }); seen != 100 {
		t.Errorf("%d points seen in 100 steps", seen)
	}
}
