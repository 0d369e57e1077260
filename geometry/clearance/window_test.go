package clearance_test

import (
	"math/rand/v2"
	"slices"
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

// Of a spiral only the slanted right sides are beside a box on its right, none of which
// follows another, and each is found from end to end all the same, though the first of them
// begins in the box.
func TestWindowOfASpiral(t *testing.T) {
	turn := func(r float64) []geometry.Point {
		return []geometry.Point{{X: 200 + r, Y: -50 - r}, {X: 5 + r, Y: 50 + r}, {X: -10 - r, Y: 50 + r}, {X: -10 - r, Y: -53 - r}}
	}
	var ring, back []geometry.Point
	for k := range 20 {
		ring, back = append(ring, turn(3*float64(k)+1.5)...), append(back, turn(3*float64(k))...)
	}
	slices.Reverse(back)
	first := ring[0]
	ring[0] = first.Lerp(ring[1], 0.62) // and the rest of that side comes last
	ring = append(append(ring, back...), first)
	whole := clearance.NewRegion(nil, ring)
	const within = 4.0
	for x := 60.0; x < 180; x++ {
		at := geometry.Pt(x, 0)
		window := clearance.NewWindow(nil, geometry.BoxAround(at).Grow(3*within), ring)
		off, ok := window.Off(nil, at, within)
		if foot, near := whole.Nearest(nil, at, within); ok != near || off != foot.Dist {
			t.Fatalf("%v is %v, %v off, of the region %v, %v", at, off, ok, foot.Dist, near)
		}
		if got, want := window.Inside(nil, at), whole.Inside(nil, at); got != want {
			t.Fatalf("%v inside: %v, of the region %v", at, got, want)
		}
	}
}
