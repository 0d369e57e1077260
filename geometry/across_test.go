package geometry_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
)

// By hand: sides of 30 and 40 mm, a diagonal that is neither, and a circle, half of
// which is; its chords are up to 2 mm long.
func TestLengthAcross(t *testing.T) {
	for _, c := range []struct {
		data string
		deg  float64
		want float64
		tol  float64
	}{
		{"M0 0H30V40", 0, 40, 1e-9}, {"M0 0H30V40", 90, 30, 1e-9}, {"M0 0H30V40", 180, 40, 1e-9},
		{"M0 0L10 10", 0, 0, 0}, {"M0 0L10 10", 90, 0, 0},
		{"M0 0L10 10", 135, 10 * math.Sqrt2, 1e-9}, {"M5 0A5 5 0 0 1 -5 0A5 5 0 0 1 5 0Z", 0, 5 * math.Pi, 0.5},
	} {
		paths, err := geometry.ParsePathData(c.data)
		if err != nil {
			t.Fatal(err)
		}
		if got := paths[0].LengthAcross(c.deg); math.Abs(got-c.want) > c.tol {
			t.Errorf("%s: %g mm across %g°, want %g", c.data, got, c.deg, c.want)
		}
	}
}
