package clearance_test

import (
	"encoding/json"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/geometrytest/reference"
)

// The pole of a lake with islands, to two precisions. The expected distance
// is certified within 7.3e-4 of the largest possible (benchmarks/README.md).
func TestPoleOfALake(t *testing.T) {
	var lake struct {
		Rings   [][][2]float64 `json:"rings"`
		Refined struct {
			X, Y, Distance float64
			Gap            float64 `json:"certified_gap"`
		} `json:"refined"`
	}
	load(t, &lake, "water1.json")
	var rings [][]geometry.Point
	for _, ring := range lake.Rings {
		var pts []geometry.Point
		for _, p := range ring {
			pts = append(pts, geometry.Pt(p[0], p[1]))
		}
		rings = append(rings, pts)
	}
	r := clearance.NewRegion(nil, rings...)
	for _, precision := range []float64{50, 1, 1e-3} {
		p := r.Pole(nil, precision)
		most := lake.Refined.Distance + lake.Refined.Gap
		if p.Radius > most || p.Radius < lake.Refined.Distance-precision {
			t.Errorf("precision %g: radius %.6f, want %.6f to %.6f", precision, p.Radius, lake.Refined.Distance-precision, most)
		}
		if p.Gap > precision || p.Radius+p.Gap < lake.Refined.Distance {
			t.Errorf("precision %g: gap %g does not bound the largest circle", precision, p.Gap)
		}
		if precision <= 1e-3 && p.Centre.Dist(geometry.Pt(lake.Refined.X, lake.Refined.Y)) > 0.05 {
			t.Errorf("pole at %v, want %v, %v", p.Centre, lake.Refined.X, lake.Refined.Y)
		}
	}
}

// The largest inscribed circles of the unit tests named in benchmarks/README.md,
// each within twice its tolerance, as there.
func TestLargestInscribedCircles(t *testing.T) {
	var set struct {
		Cases []struct {
			Name, WKT string
			Tolerance float64
			Expect    *struct{ X, Y, Radius float64 }
		}
	}
	load(t, &set, "max_inscribed_circle.json")
	for _, c := range set.Cases {
		best := clearance.Pole{}
		for _, rings := range polygons(t, c.WKT) {
			if p := clearance.NewRegion(nil, rings...).Pole(nil, c.Tolerance/2); p.Radius >= best.Radius {
				best = p
			}
		}
		if c.Expect == nil {
			if best.Radius > 2*c.Tolerance {
				t.Errorf("%s: radius %g for a polygon without an inside", c.Name, best.Radius)
			}
			continue
		}
		off := best.Centre.Dist(geometry.Pt(c.Expect.X, c.Expect.Y))
		if math.Abs(best.Radius-c.Expect.Radius) > 2*c.Tolerance || off > placeBound(c.Name, c.Tolerance) {
			t.Errorf("%s: radius %.5f at %v, want %.5f at %.4f, %.4f", c.Name, best.Radius, best.Centre, c.Expect.Radius, c.Expect.X, c.Expect.Y)
		}
	}
}

// placeBound is how far the centre may lie from the published one. The
// published place is rounded to two decimals in three cases, and the radius,
// which the precision is about, is flat round the pole.
func placeBound(name string, tolerance float64) float64 {
	if tolerance < 0.01 {
		return 0.03
	}
	return 0.3
}

func load(t *testing.T, into any, name string) {
	t.Helper()
	data, err := os.ReadFile(reference.Path(t, "benchmarks", "pole", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatal(err)
	}
}

// polygons reads POLYGON and MULTIPOLYGON text: the first ring after a double
// bracket opens a polygon.
func polygons(t *testing.T, wkt string) [][][]geometry.Point {
	t.Helper()
	var all [][][]geometry.Point
	for _, part := range regexp.MustCompile(`\(\(.*?\)\)`).FindAllString(wkt, -1) {
		var rings [][]geometry.Point
		for _, ring := range strings.Split(strings.Trim(part, "()"), "), (") {
			var pts []geometry.Point
			for _, pair := range strings.Split(ring, ",") {
				f := strings.Fields(pair)
				x, errX := strconv.ParseFloat(f[0], 64)
				y, errY := strconv.ParseFloat(f[1], 64)
				if errX != nil || errY != nil {
					t.Fatalf("bad coordinate %q", pair)
				}
				pts = append(pts, geometry.Pt(x, y))
			}
			rings = append(rings, pts[:len(pts)-1])
		}
		all = append(all, rings)
	}
	return all
}

// star returns a simple polygon round c: corners at growing angles, at radii
// between half and all of size.
func star(t *rapid.T, c geometry.Point, size float64) []geometry.Point {
	n := rapid.IntRange(3, 12).Draw(t, "corners")
	pts := make([]geometry.Point, n)
	for i := range pts {
		r := size * rapid.Float64Range(0.5, 1).Draw(t, "radius")
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = c.Add(geometry.Pt(cos, sin).Mul(r))
	}
	return pts
}

// A circle as large as the pole's lies inside: none of the boundary, sampled
// at 1,000 points, is nearer; and no other sampled point inside lies deeper
// than the gap allows.
func TestPoleIsInsideAndDeepest(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		ring := star(t, geometry.Pt(7, -3), 50)
		hole := star(t, geometry.Pt(7, -3), 8)
		r := clearance.NewRegion(nil, ring, hole)
		p := r.Pole(nil, 0.01)
		if got := sampled(p.Centre, ring, hole); math.Abs(got-p.Radius) > 0.1 {
			t.Fatalf("radius %g, sampled %g", p.Radius, got)
		}
		for range 50 {
			q := geometry.Pt(rapid.Float64Range(-50, 60).Draw(t, "x"), rapid.Float64Range(-55, 50).Draw(t, "y"))
			if r.Inside(nil, q) && sampled(q, ring, hole) > p.Radius+p.Gap+0.1 {
				t.Fatalf("%v is deeper than the pole", q)
			}
		}
	})
}

// sampled returns the distance from p to the nearest of many boundary points.
func sampled(p geometry.Point, rings ...[]geometry.Point) float64 {
	best := math.Inf(1)
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			for k := range 200 {
				best = math.Min(best, a.Lerp(b, float64(k)/200).Dist(p))
			}
		}
	}
	return best
}
