package nest_test

import (
	"testing"

	"knifedesk/geometry/nest"
)

// Check values, row 51 (derived by hand).
func TestPanels(t *testing.T) {
	for _, c := range []struct {
		length, width, overlap float64
		want                   int
	}{
		{1800, 590, 10, 4}, {1740, 590, 10, 3}, {590, 590, 10, 1}, {1170, 590, 10, 2}, {1171, 590, 10, 3}, {50, 10, 10, 0},
	} {
		if got := nest.Panels(c.length, c.width, c.overlap); got != c.want {
			t.Errorf("Panels(%g, %g, %g) = %d, want %d", c.length, c.width, c.overlap, got, c.want)
		}
	}
}
