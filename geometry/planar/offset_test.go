package planar_test

import (
	"math"
	"testing"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// TestOffsetAreas checks against Steiner's formula for convex areas,
// A + P·d + π·d², and plain geometry.
func TestOffsetAreas(t *testing.T) {
	const chord = 1e-6
	// Where a neck of 0.4 opens into a square, the inset of 0.3 bulges between
	// the circles about the neck's corners: 2·∫₀^0.2 (0.3 − √(0.09 − u²)) du.
	mouth := 2 * (0.3*0.2 - 0.1*math.Sqrt(0.05) - 0.045*math.Asin(2.0/3))
	cases := []struct {
		name, data string
		offset     planar.Offset
		area       float64
		parts      int
	}{
		{"square out, round", "M0 0H10V10H0Z", planar.Offset{By: 2}, 100 + 40*2 + 4*math.Pi, 1},
		{"square out, mitre", "M0 0H10V10H0Z", planar.Offset{By: 2, Join: planar.Mitre}, 196, 1},
		// The tip is 2√2 off the corner; beyond 2.4 a triangle of that height goes.
		{"square out, mitre cut off", "M0 0H10V10H0Z", planar.Offset{By: 2, Join: planar.Mitre, MitreLimit: 1.2}, 196 - 4*(2*math.Sqrt2-2.4)*(2*math.Sqrt2-2.4), 1},
		{"square out, mitre just within", "M0 0H10V10H0Z", planar.Offset{By: 2, Join: planar.Mitre, MitreLimit: 1.4143}, 196, 1},
		{"square out, limit below 1", "M0 0H10V10H0Z", planar.Offset{By: 2, Join: planar.Mitre, MitreLimit: 0.5}, 196 - 4*(2*math.Sqrt2-2)*(2*math.Sqrt2-2), 1},
		{"square out, painted", "M0 0H10V10H0Z", planar.Offset{By: 2, Join: planar.Painted, MitreLimit: 1.2}, 196 - 4*2, 1},
		{"square out, painted just within", "M0 0H10V10H0Z", planar.Offset{By: 2, Join: planar.Painted, MitreLimit: 1.4143}, 196, 1},
		{"square with a square hole in, mitre cut off", "M0 0H20V20H0ZM5 5V15H15V5Z", planar.Offset{By: -1, Join: planar.Mitre, MitreLimit: 1.2}, 18*18 - (144 - 4*(math.Sqrt2-1.2)*(math.Sqrt2-1.2)), 1},
		{"square in", "M0 0H10V10H0Z", planar.Offset{By: -2}, 36, 1},
		{"square in, to nothing", "M0 0H10V10H0Z", planar.Offset{By: -5.001}, 0, 0},
		{"clockwise square out", "M0 0V10H10V0Z", planar.Offset{By: 2, Join: planar.Mitre}, 196, 1},
		{"hole closes", "M0 0H10V10H0ZM4 4V6H6V4Z", planar.Offset{By: 1.5, Join: planar.Mitre}, 169, 1},
		{"hole shrinks", "M0 0H20V20H0ZM5 5V15H15V5Z", planar.Offset{By: 1, Join: planar.Mitre}, 22*22 - 8*8, 1},
		{"hole grows, round", "M0 0H20V20H0ZM5 5V15H15V5Z", planar.Offset{By: -1}, 18*18 - (100 + 40 + math.Pi), 1},
		{"dumbbell falls apart", "M0 0H4V1.8H8V0H12V4H8V2.2H4V4H0Z", planar.Offset{By: -0.3}, 2 * (3.4*3.4 + mouth), 2},
		{"neighbours grow together", "M0 0H4V4H0ZM5 0H9V4H5Z", planar.Offset{By: 1, Join: planar.Mitre}, 66, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			c.offset.ChordMM = chord
			got, err := c.offset.Of(nil, region(t, planar.NonZero, c.data))
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got.Area()-c.area) > 1e-3 || len(got) != c.parts {
				t.Errorf("area %.6f in %d parts, expected %.6f in %d", got.Area(), len(got), c.area, c.parts)
			}
		})
	}
}

// TestOffsetKeepsItsDistance measures: no corner of the result is nearer to
// the border than the offset, none farther, but for grid and chords.
func TestOffsetKeepsItsDistance(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-20, 20)
		var ring []geometry.Point
		for range rapid.IntRange(3, 12).Draw(t, "corners") {
			ring = append(ring, geometry.Pt(coordinate.Draw(t, "x"), coordinate.Draw(t, "y")))
		}
		by := rapid.Float64Range(0.05, 6).Draw(t, "by") * float64(1-2*rapid.IntRange(0, 1).Draw(t, "inward"))
		r := planar.Region{Rings: [][]geometry.Point{ring}, Rule: planar.Rule(rapid.IntRange(0, 1).Draw(t, "rule"))}
		border, err := planar.Union(nil, r)
		if err != nil {
			t.Fatal(err)
		}
		got, err := planar.Offset{By: by, ChordMM: 1e-4}.Of(nil, r)
		if err != nil {
			t.Fatal(err)
		}
		for _, ring := range got.Region().Rings {
			for _, p := range ring {
				if d := borderDistance(border, p); math.Abs(d-math.Abs(by)) > 2e-4+2.0/planar.PerMM {
					t.Errorf("%v lies %g from the border, offset %g", p, d, by)
				}
			}
		}
	})
}

func borderDistance(ps planar.Polygons, p geometry.Point) float64 {
	best := math.Inf(1)
	for _, ring := range ps.Region().Rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			along := b.Sub(a)
			t := math.Max(0, math.Min(1, p.Sub(a).Dot(along)/along.Dot(along)))
			best = math.Min(best, p.Dist(a.Add(along.Mul(t))))
		}
	}
	return best
}
