package clearance_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
)

// The poles of shapes whose largest circles are known by construction: the incircle of
// the triangle with sides 3, 4 and 5 has the radius 1, that of a rectangle lies in its
// middle, and a square has one wherever a corner is drawn on its side.
func TestConvexPoles(t *testing.T) {
	for _, c := range []struct {
		data   string
		centre geometry.Point
		radius float64
	}{
		{"M0 0H4L0 3Z", geometry.Pt(1, 1), 1},
		{"M10 10H40V20H10Z", geometry.Pt(25, 15), 5},
		{"M10 20H25H40V10H10Z", geometry.Pt(25, 15), 5},
		{"M0 0H2L3 " + num(math.Sqrt(3)) + "L2 " + num(2*math.Sqrt(3)) + "H0L-1 " + num(math.Sqrt(3)) + "Z", geometry.Pt(1, math.Sqrt(3)), math.Sqrt(3)},
	} {
		p := clearance.NewRegion(nil, rings(t, c.data)...).Measure(nil, 0).Pole
		if p.Centre.Dist(c.centre) > 1e-6 || math.Abs(p.Radius-c.radius) > 1e-9 || p.Gap > 1e-9 {
			t.Errorf("%s: pole %+v, want %v at %v", c.data, p, c.radius, c.centre)
		}
	}
}

// The poles of random convex cells are those that the search by squares finds, which
// knows nothing of sides.
func TestConvexPolesAsSearched(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 7))
	for range 200 {
		ring := make([]geometry.Point, 3+dice.IntN(4))
		angles := make([]float64, len(ring))
		for i := range angles {
			angles[i] = 2 * math.Pi * dice.Float64()
		}
		slices.Sort(angles)
		for i, a := range angles { // on an ellipse, so that it is convex
			ring[i] = geometry.Pt(300+20*math.Cos(a), 100+5*math.Sin(a))
		}
		r := clearance.NewRegion(nil, ring)
		got, want := r.Measure(nil, 0).Pole, r.Pole(nil, 1e-4)
		if math.Abs(got.Radius-want.Radius) > 2e-4 {
			t.Errorf("%v: radius %v, searched %v", ring, got.Radius, want.Radius)
		}
	}
}

// By hand: a strip of 100 mm widens from 0.5 to 2.5 mm. Over 50 mm it is narrower than
// 1.5 mm, 1 mm on average; over 15 mm narrower than 0.8 mm, 0.65 on average. The circles
// there touch the sides within a quarter of a millimetre of the places where they count.
func TestEvenStretches(t *testing.T) {
	s := clearance.NewRegion(nil, rings(t, "M0 -0.25L100 -1.25V1.25L0 0.25Z")...).Measure(nil, 1.5, 0.8)
	for i, want := range []clearance.Neck{{WidthMM: 0.5, LengthMM: 50, AreaMM2: 50}, {WidthMM: 0.5, LengthMM: 15, AreaMM2: 9.75}} {
		necks := s.Necks
		if i > 0 {
			necks = s.Finer[0]
		}
		if len(necks) != 1 {
			t.Fatalf("limit %d: %d necks, want 1", i, len(necks))
		}
		n := necks[0]
		if math.Abs(n.LengthMM-want.LengthMM) > 0.6 || math.Abs(n.AreaMM2-want.AreaMM2) > 0.6 || math.Abs(n.WidthMM-want.WidthMM) > 0.01 {
			t.Errorf("limit %d: %+v, want %+v", i, n, want)
		}
	}
}
