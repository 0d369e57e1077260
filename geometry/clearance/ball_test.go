package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
)

// The balls that the tree finds are those that a look at every edge finds, of long teeth
// that slant, of a traced ring and of one that runs there and back; and in convex rings
// the lines of the sides tell the same. A ball may overlap what it touches by a billionth, which
// its radius shows many times over where it touches nearly beside its site.
func TestBallsAsByAllEdges(t *testing.T) {
	shapes := [][]geometry.Point{slanted(40, 0.6), slanted(9, math.Pi/2), traced(700), thereAndBack(300)}
	dice := rand.New(rand.NewPCG(5, 16))
	balls := 0
	for range 60 {
		angles := make([]float64, 3+dice.IntN(60))
		for i := range angles {
			angles[i] = 2 * math.Pi * (float64(i) + 0.6*dice.Float64()) / float64(len(angles))
		}
		ring := make([]geometry.Point, len(angles))
		for i, a := range angles { // on an ellipse, so that it is convex
			ring[i] = geometry.Pt(300+20*math.Cos(a), 100+3*math.Sin(a))
		}
		shapes = append(shapes, ring)
	}
	for i, ring := range shapes {
		for _, limit := range []float64{1.5, 100} {
			clearance.NewRegion(nil, ring).Balls(limit, func(searched, looked, lined float64) {
				if math.Abs(searched-looked) > 1e-5*looked || math.Abs(lined-looked) > 1e-5*looked {
					t.Fatalf("shape %d of %d corners, at most %g: radius %.12g in the tree, %.12g by all edges, %.12g by lines", i, len(ring), limit, searched, looked, lined)
				}
				balls++
			})
		}
	}
	if balls < 10_000 {
		t.Errorf("%d balls", balls)
	}
}
