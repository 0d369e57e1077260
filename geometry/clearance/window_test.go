package clearance_test

import (
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
)

// A window tells of the places in its box what the whole region tells.
func TestWindowIsTheRegion(t *testing.T) {
	rings := [][]geometry.Point{traced(3000), geometry.Circle(geometry.Pt(20, -10), 90).Flatten(0.01)[1:]}
	whole := clearance.NewRegion(nil, rings...)
	dice := rand.New(rand.NewPCG(7, 15))
	const within = 4.0
	in, met := 0, 0
	for range 200 {
		middle := geometry.Pt(500*dice.Float64()-250, 500*dice.Float64()-250)
		window := clearance.NewWindow(nil, geometry.BoxAround(middle).Grow(2*within), rings...)
		for range 20 {
			p := middle.Add(geometry.Pt(dice.Float64()-0.5, dice.Float64()-0.5).Mul(2 * within))
			if got, want := window.Inside(nil, p), whole.Inside(nil, p); got != want {
				t.Fatalf("%v inside: %v, of the region %v", p, got, want)
			} else if got {
				in++
			}
			off, ok := window.Off(nil, p, within)
			if foot, near := whole.Nearest(nil, p, within); ok != near || off != foot.Dist {
				t.Fatalf("%v is %v, %v off, of the region %v, %v", p, off, ok, foot.Dist, near)
			} else if ok {
				met++
			}
		}
	}
	if in < 500 || met < 100 {
		t.Errorf("only %d places inside, %d near the boundary", in, met)
	}
}

// Edges that leave the box and come back do not hide those between them.
func TestWindowOfSlantedTeeth(t *testing.T) {
	var ring []geometry.Point
	for i := range 30 { // each tooth leans over the next ones
		x := float64(10 * i)
		ring = append(ring, geometry.Pt(x, 0), geometry.Pt(x+200, 100), geometry.Pt(x+206, 100), geometry.Pt(x+6, 0))
	}
	ring = append(ring, geometry.Pt(306, -50), geometry.Pt(-5, -50))
	whole := clearance.NewRegion(nil, ring)
	dice := rand.New(rand.NewPCG(7, 16))
	const within = 4.0
	for range 400 {
		middle := geometry.Pt(500*dice.Float64(), 20+60*dice.Float64())
		window := clearance.NewWindow(nil, geometry.BoxAround(middle).Grow(within), ring)
		off, ok := window.Off(nil, middle, within)
		if foot, near := whole.Nearest(nil, middle, within); ok != near || off != foot.Dist {
			t.Fatalf("%v is %v, %v off, of the region %v, %v", middle, off, ok, foot.Dist, near)
		}
		if got, want := window.Inside(nil, middle), whole.Inside(nil, middle); got != want {
			t.Fatalf("%v inside: %v, of the region %v", middle, got, want)
		}
	}
}
