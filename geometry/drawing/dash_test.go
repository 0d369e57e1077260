package drawing_test

import (
	"testing"

	"knifedesk/geometry/drawing"
)

// Dash and dot, and dash and two dots, have dashes of two lengths; dashes alone and dots
// alone do not, nor does an odd pattern of one length, which is run twice.
func TestDashDot(t *testing.T) {
	for _, c := range []struct {
		pattern []float64
		want    bool
	}{
		{nil, false}, {[]float64{3}, false}, {[]float64{6, 3}, false}, {[]float64{0, 2}, false}, {[]float64{5, 2, 5, 2}, false},
		{[]float64{8, 2, 1, 2}, true}, {[]float64{8, 2, 0, 2}, true}, {[]float64{8, 2, 1, 2, 1, 2}, true}, {[]float64{8, 2, 4, 2}, false}, {[]float64{8, 2, 3.9, 2}, true},
		{[]float64{8, 2, 2}, true}, {[]float64{4, 3, 4}, false},
	} {
		if got := drawing.DashDot(drawing.DashesOf(c.pattern)); got != c.want {
			t.Errorf("%v: %v", c.pattern, got)
		}
	}
}
