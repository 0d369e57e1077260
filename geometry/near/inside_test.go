package near_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/near"

	"pgregory.net/rapid"
)

// How often each ring runs round the point, by eye.
func TestWinding(t *testing.T) {
	for _, tt := range []struct {
		name, ring string
		at         geometry.Point
		want       int
	}{
		{"in a square", "M0 0H4V4H0Z", geometry.Pt(1, 1), 1},
		{"clockwise", "M0 0V4H4V0Z", geometry.Pt(1, 1), -1},
		{"left of it", "M0 0H4V4H0Z", geometry.Pt(-1, 1), 0},
		{"right of it", "M0 0H4V4H0Z", geometry.Pt(5, 1), 0},
		{"at the height of a corner", "M0 0L4 2 0 4 -4 2Z", geometry.Pt(0, 2), 1},
		{"left of a corner", "M0 0L4 2 0 4 -4 2Z", geometry.Pt(-5, 2), 0},
		{"below a tip", "M0 0L2 4 4 0 2 9Z", geometry.Pt(-1, 4), 0},
		{"twice round", "M0 0H4V4H0V0H4V4H0Z", geometry.Pt(1, 1), 2},
		{"where a figure of eight turns back", "M0 0H4L0 4H4Z", geometry.Pt(2, 3.5), -1},
		{"nothing", "", geometry.Pt(0, 0), 0},
	} {
		var ring []geometry.Point
		if tt.ring != "" {
			paths, err := geometry.ParsePathData(tt.ring)
			if err != nil {
				t.Fatal(err)
			}
			ring = paths[0].Flatten(1)
		}
		if got := near.Winding(ring, tt.at); got != tt.want {
			t.Errorf("%s: %d, want %d", tt.name, got, tt.want)
		}
		if got := near.Inside(tt.at, ring); got != (tt.want%2 != 0) {
			t.Errorf("%s: inside %v", tt.name, got)
		}
	}
	frame := [][]geometry.Point{{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 9}, {X: 0, Y: 9}}, {{X: 3, Y: 3}, {X: 6, Y: 3}, {X: 6, Y: 6}, {X: 3, Y: 6}}}
	if near.Inside(geometry.Pt(4, 4), frame...) || !near.Inside(geometry.Pt(1, 4), frame...) {
		t.Error("the hole of a frame lies inside, or its rim outside")
	}
}

// The winding number is the sum of the angles at which the sides are seen,
// divided by the full circle.
func TestWindingIsTheAngleSeen(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		ring := rapid.SliceOfN(whole(4), 3, 12).Draw(t, "ring")
		p := whole(5).Draw(t, "point").Add(geometry.Pt(1/math.Pi, math.Sqrt2/8)) // on no line through whole points
		angle := 0.0
		for i, a := range ring {
			u, v := a.Sub(p), ring[(i+1)%len(ring)].Sub(p)
			angle += math.Atan2(u.Cross(v), u.Dot(v))
		}
		if got, want := near.Winding(ring, p), int(math.Round(angle/(2*math.Pi))); got != want {
			t.Fatalf("%d, want %d round %v", got, want, p)
		}
	})
}
