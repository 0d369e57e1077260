package geometry_test

import (
	"testing"

	"knifedesk/geometry"
)

// By hand: beside the segment 3-4-5, past its ends, on it, and where it is one point.
func TestDistToSegment(t *testing.T) {
	a, b := geometry.Pt(0, 0), geometry.Pt(8, 6)
	for _, c := range []struct {
		p    geometry.Point
		a, b geometry.Point
		want float64
	}{
		{geometry.Pt(1, 7), a, b, 5},
		{geometry.Pt(-3, -4), a, b, 5},
		{geometry.Pt(8, 16), a, b, 10},
		{geometry.Pt(4, 3), a, b, 0},
		{geometry.Pt(3, 4), a, a, 5},
	} {
		if got := c.p.DistToSegment(c.a, c.b); got != c.want {
			t.Errorf("%v to %v–%v: %g, want %g", c.p, c.a, c.b, got, c.want)
		}
	}
}
