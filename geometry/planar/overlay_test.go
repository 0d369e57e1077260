package planar_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// region reads the subpaths of SVG path data as one region.
func region(t testing.TB, rule planar.Rule, data string) planar.Region {
	t.Helper()
	paths, err := geometry.ParsePathData(data)
	if err != nil {
		t.Fatal(err)
	}
	r := planar.Region{Rule: rule}
	for _, p := range paths {
		pts := p.Flatten(0.001)
		if n := len(pts); n > 1 && pts[0] == pts[n-1] {
			pts = pts[:n-1]
		}
		r.Rings = append(r.Rings, pts)
	}
	return r
}

func TestOverlayTable(t *testing.T) {
	const square, shifted = "M0 0H10V10H0Z", "M5 5H15V15H5Z"
	cases := []struct {
		name, a, b             string
		rule                   planar.Rule
		union, common, without float64
		parts, holes           int // of the union
	}{
		{"overlapping", square, shifted, planar.NonZero, 175, 25, 75, 1, 0},
		{"equal", square, square, planar.NonZero, 100, 100, 0, 1, 0},
		{"equal, run the other way", square, "M0 0V10H10V0Z", planar.NonZero, 100, 100, 0, 1, 0},
		{"sharing a side", square, "M10 0H20V10H10Z", planar.NonZero, 200, 0, 100, 1, 0},
		{"sharing part of a side", square, "M10 5H20V25H10Z", planar.NonZero, 300, 0, 100, 1, 0},
		{"touching in a corner", square, "M10 10H20V20H10Z", planar.NonZero, 200, 0, 100, 2, 0},
		{"inside", square, "M2 2H4V4H2Z", planar.NonZero, 100, 4, 96, 1, 0},
		{"touching from inside", square, "M0 5L5 3V7Z", planar.NonZero, 100, 10, 90, 1, 0},
		{"hole by parity, filled", square + "M2 2H8V8H2Z", "M3 3H7V7H3Z", planar.EvenOdd, 80, 0, 64, 2, 1},
		{"two contours, non-zero", square + "M2 2H8V8H2Z", "M3 3H7V7H3Z", planar.NonZero, 100, 16, 84, 1, 0},
		{"bow tie by parity", "M0 0L10 10V0L0 10Z", "M0 0H1V1H0Z", planar.EvenOdd, 50.5, 0.5, 49.5, 2, 0},
		{"empty", square, "", planar.NonZero, 100, 0, 100, 1, 0},
		{"a ring round a hole is filled by its plug", square + "M2 2V8H8V2Z", "M2 2H8V8H2Z", planar.NonZero, 100, 0, 64, 1, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			a, b := region(t, c.rule, c.a), region(t, c.rule, c.b)
			union, err := planar.Union(nil, a, b)
			if err != nil {
				t.Fatal(err)
			}
			common, err := planar.Intersection(nil, a, b)
			if err != nil {
				t.Fatal(err)
			}
			without, err := planar.Difference(nil, a, b)
			if err != nil {
				t.Fatal(err)
			}
			for name, pair := range map[string][2]float64{
				"union": {union.Area(), c.union}, "common": {common.Area(), c.common}, "without": {without.Area(), c.without},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-9 {
					t.Errorf("%s has area %g, expected %g", name, pair[0], pair[1])
				}
			}
			holes := 0
			for _, p := range union {
				holes += len(p.Holes)
			}
			if len(union) != c.parts || holes != c.holes {
				t.Errorf("union has %d parts and %d holes, expected %d and %d", len(union), holes, c.parts, c.holes)
			}
		})
	}
}
