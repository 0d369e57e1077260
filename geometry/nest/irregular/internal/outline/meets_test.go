package outline_test

import (
	"math/rand"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/planar"
)

// shapes are rings on a grid of 1 mm: a U, a ring with a hole, a star, a group.
var shapes = map[string][][][2]int64{
	"u":     {{{0, 0}, {14, 0}, {14, 5}, {12, 5}, {12, 2}, {2, 2}, {2, 5}, {0, 5}}},
	"ring":  {{{0, 0}, {9, 0}, {12, 8}, {3, 11}}, {{4, 3}, {4, 8}, {8, 6}, {7, 3}}},
	"star":  {{{0, 4}, {4, 3}, {5, 0}, {6, 3}, {11, 4}, {6, 6}, {5, 12}, {4, 6}}},
	"group": {{{0, 0}, {3, 0}, {0, 3}}, {{8, 1}, {11, 0}, {12, 6}, {7, 7}}},
}

func rings(name string, k int64) [][]outline.Point {
	var out [][]outline.Point
	for _, r := range shapes[name] {
		var ring []outline.Point
		for _, p := range r {
			ring = append(ring, outline.Point{X: p[0] * k, Y: p[1] * k})
		}
		out = append(out, ring)
	}
	return out
}

func region(name string, dx, dy float64) planar.Region {
	var r planar.Region
	for _, ring := range shapes[name] {
		var out []geometry.Point
		for _, p := range ring {
			out = append(out, geometry.Pt(float64(p[0])+dx, float64(p[1])+dy))
		}
		r.Rings = append(r.Rings, out)
	}
	return r
}

// TestMeets compares with the area that two outlines have in common by the
// planar kernel, at places by chance.
func TestMeets(t *testing.T) {
	random := rand.New(rand.NewSource(1))
	made := map[string]*outline.Outline{}
	for name := range shapes {
		r := rings(name, planar.PerMM)
		made[name] = outline.New(r, outline.Poles(r), r[0][0], r[0][0], 0)
	}
	for a, o := range made {
		for b, p := range made {
			for range 400 {
				dx, dy := float64(random.Intn(280000)-140000), float64(random.Intn(280000)-140000)
				common, err := planar.Intersection(nil, region(a, 0, 0), region(b, dx/planar.PerMM, dy/planar.PerMM))
				if err != nil {
					t.Fatal(err)
				}
				area := common.Area()
				got := o.Meets(p, dx, dy)
				if got != (area > 0) && (area == 0 || area > 1e-6) {
					t.Errorf("%s and %s at %v, %v: meet: %v; common area %v mm²", a, b, dx, dy, got, area)
				}
				if o.Near(p, dx, dy) && area == 0 {
					t.Errorf("%s and %s at %v, %v are near, without common area", a, b, dx, dy)
				}
			}
		}
	}
}
