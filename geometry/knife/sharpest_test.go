package knife_test

import (
	"fmt"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/knife"
)

// By hand: a wedge of 45° at its tip, where it closes or within; corners of arcs by their
// tangents; a reversal is 0°; points drawn twice and what goes straight on are none.
func TestSharp(t *testing.T) {
	for _, c := range []struct {
		data  string
		below float64
		want  []float64
		at    geometry.Point // the first
	}{
		{"M0 0L10 0L10 10Z", 60, []float64{45, 45}, geometry.Pt(0, 0)},
		{"M10 0L10 10L0 0Z", 46, []float64{45, 45}, geometry.Pt(10, 10)},
		{"M10 0L10 10L0 0Z", 45, nil, geometry.Point{}},
		{"M0 0L10 0L10 0L0 10", 60, []float64{45}, geometry.Pt(10, 0)},
		{"M0 0H10H20H5", 30, []float64{0}, geometry.Pt(20, 0)},
		{"M0 0H10V10H0Z", 89, nil, geometry.Point{}},
		{"M0 0A10 10 0 0 1 10 10A10 10 0 0 0 0 0Z", 95, []float64{0, 0}, geometry.Pt(0, 0)}, // there and back
		{"M-10 0A10 10 0 0 0 10 0A10 10 0 0 0 -10 0Z", 95, nil, geometry.Point{}},
		{"M0 0A10 10 0 0 1 10 10A10 10 0 0 1 0 0Z", 95, []float64{90, 90}, geometry.Pt(0, 0)},
		{"M0 0C5 0 10 -5 10 0C10 -5 5 -9 0 -9", 30, []float64{0}, geometry.Pt(10, 0)},
	} {
		got := knife.Sharp(nil, path(t, c.data), c.below)
		if len(got) != len(c.want) {
			t.Errorf("%s below %g°: %v, want %v", c.data, c.below, got, c.want)
			continue
		}
		for i, k := range got {
			near(t, fmt.Sprint(c.data, ", corner ", i), k.Deg, c.want[i], 1e-3)
		}
		if len(got) > 0 {
			near(t, c.data, got[0].At.Dist(c.at), 0, 1e-9)
		}
	}
}
