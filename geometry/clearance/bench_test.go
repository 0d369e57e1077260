package clearance_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
)

// traced is a wavy ring of n corners, each off it by up to 20 µm: what a
// program makes of a scanned picture.
func traced(n int) []geometry.Point {
	dice := rand.New(rand.NewPCG(1, 2))
	pts := make([]geometry.Point, n)
	for i := range pts {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := 200 + 30*math.Sin(10*a) + 0.02*(2*dice.Float64()-1)
		sin, cos := math.Sincos(a)
		pts[i] = geometry.Pt(r*cos, r*sin)
	}
	return pts
}

// BenchmarkMeasureTraced: on two shared cores 30,000 corners took 47 s before
// balls grew from the size of the sides.
func BenchmarkMeasureTraced(b *testing.B) {
	for _, n := range []int{1_000, 3_000, 10_000, 30_000} {
		pts := traced(n)
		b.Run(fmt.Sprintf("corners=%d", n), func(b *testing.B) {
			for b.Loop() {
				clearance.NewRegion(nil, pts).Measure(nil, 1.5)
			}
		})
	}
}
