package outline_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/planar"
)

// gear is a wavy ring with a wavy hole.
func gear(n int) [][]outline.Point {
	ring := func(r, wave float64, turn int) []outline.Point {
		out := make([]outline.Point, n)
		for i := range out {
			a := 2 * math.Pi * float64(turn*i) / float64(n)
			d := r + wave*math.Sin(9*a)
			out[i] = outline.Point{X: int64(d * math.Cos(a)), Y: int64(d * math.Sin(a))}
		}
		return out
	}
	return [][]outline.Point{ring(100000, 6000, 1), ring(50000, 3000, -1)}
}

func mm(rings [][]outline.Point) planar.Region {
	var r planar.Region
	for _, ring := range rings {
		var out []geometry.Point
		for _, p := range ring {
			out = append(out, geometry.Pt(float64(p.X)/planar.PerMM, float64(p.Y)/planar.PerMM))
		}
		r.Rings = append(r.Rings, out)
	}
	return r
}

func area(t *testing.T, got planar.Polygons, err error) float64 {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return got.Area()
}

func TestSimplifyContainsWhatItSimplifies(t *testing.T) {
	rings := gear(300)
	simple := outline.Simplify(rings, 40, 0.02)
	if n := len(simple[0]) + len(simple[1]); n > 200 {
		t.Errorf("%d corners are left", n)
	}
	lost, err := planar.Difference(nil, mm(rings), mm(simple))
	if a := area(t, lost, err); a > 0 {
		t.Errorf("%v mm² are no longer in it", a)
	}
	whole, err := planar.Union(nil, mm(rings))
	was := area(t, whole, err)
	whole, err = planar.Union(nil, mm(simple))
	if is := area(t, whole, err); is > 1.02*was {
		t.Errorf("%v mm² have grown to %v", was, is)
	}
	low, high := outline.Box(rings)
	if l, h := outline.Box(simple); l != low || h != high {
		t.Errorf("the box has changed from %v, %v to %v, %v", low, high, l, h)
	}
}

// TestParts holds the convex parts together to be the area, and each convex.
func TestParts(t *testing.T) {
	all := map[string][][]outline.Point{"gear": outline.Simplify(gear(300), 60, 0.02)}
	for name := range shapes {
		all[name] = rings(name, 10000)
	}
	for name, r := range all {
		o := outline.New(r, nil, r[0][0], r[0][0], 0)
		var sum float64
		for _, part := range o.Parts {
			region := mm([][]outline.Point{part})
			sum += planar.RingArea(region.Rings[0])
			hull := mm([][]outline.Point{outline.Hull([][]outline.Point{part})})
			if a, h := planar.RingArea(region.Rings[0]), planar.RingArea(hull.Rings[0]); math.Abs(a-h) > 1e-9*h {
				t.Errorf("%s: a part is not convex", name)
			}
		}
		whole, err := planar.Union(nil, mm(o.Rings))
		if a := area(t, whole, err); math.Abs(a-sum) > 1e-9*a {
			t.Errorf("%s: parts have %v mm², the rings %v", name, sum, a)
		}
	}
}

// TestPoles holds poles to be inside, apart, and the first the largest.
func TestPoles(t *testing.T) {
	for name := range shapes {
		r := rings(name, 10000)
		poles := outline.Poles(r)
		if len(poles) == 0 {
			t.Fatalf("%s has none", name)
		}
		for i, p := range poles {
			if p.R > poles[0].R*(1+1e-9) {
				t.Errorf("%s: pole %d is larger than the first", name, i)
			}
			for _, q := range poles[:i] {
				if d := math.Hypot(p.X-q.X, p.Y-q.Y); d < p.R+q.R-1e-6*p.R {
					t.Errorf("%s: poles overlap", name)
				}
			}
			var circle []geometry.Point
			for k := range 64 {
				s, c := math.Sincos(2 * math.Pi * float64(k) / 64)
				circle = append(circle, geometry.Pt((p.X+p.R*c)/10000, (p.Y+p.R*s)/10000))
			}
			out, err := planar.Difference(nil, planar.Region{Rings: [][]geometry.Point{circle}}, mm(r))
			if a := area(t, out, err); a > 1e-3 {
				t.Errorf("%s: %v mm² of pole %d lie outside", name, a, i)
			}
		}
	}
}
