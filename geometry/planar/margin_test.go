package planar_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/planar"
)

// judged is an area before and after an offset, for shapely.
type judged struct {
	Before, After [][][][2]float64 // polygons, their rings, points
	By            float64
}

// shapely says of each case what is wrong with it: an area after that is not
// valid by the rules of OGC Simple Features, or that does not hold all points within
// By of the area before, but for two steps of the grid.
const shapely = `
import json, sys
from shapely.geometry import Polygon
from shapely.ops import unary_union
def area(ps): return [Polygon(p[0], p[1:]) for p in ps]
for i, c in enumerate(json.load(sys.stdin)):
    after = area(c["After"])
    bad = [p for p in after if not p.is_valid]
    if bad: print(i, "not valid", bad[0].wkt[:300]); continue
    if c["By"] > 0:
        near = unary_union(area(c["Before"])).buffer(c["By"] - 2e-4, 64)
        lost = near.difference(unary_union(after)).area
        if lost > 1e-9: print(i, "margin lost:", lost)
`

func judge(t *testing.T, cases []judged) {
	t.Helper()
	data, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(reference.Python(t, "shapely"), "-c", shapely)
	cmd.Stdin = strings.NewReader(string(data))
	out, err := cmd.CombinedOutput()
	if err != nil || len(out) > 0 {
		t.Errorf("%v\n%s", err, out)
	}
}

func plain(ps planar.Polygons) [][][][2]float64 {
	var all [][][][2]float64
	for _, p := range ps {
		var rings [][][2]float64
		for _, ring := range append([][]geometry.Point{p.Outer}, p.Holes...) {
			var pts [][2]float64
			for _, q := range ring {
				pts = append(pts, [2]float64{q.X, q.Y})
			}
			rings = append(rings, pts)
		}
		all = append(all, rings)
	}
	return all
}

// However sharp the corners, mitres that are cut off keep the margin all round,
// and what comes out is valid in floating point.
func TestMitresKeepTheMargin(t *testing.T) {
	dice := rand.New(rand.NewPCG(21, 1))
	var cases []judged
	for range 150 {
		var ring []geometry.Point
		n := 3 + dice.IntN(7)
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.9*dice.Float64()) / float64(n))
			r := 0.5 + 30*dice.Float64()*dice.Float64()
			ring = append(ring, geometry.Pt(100.1+r*cos, 7.7+r*sin))
		}
		o := planar.Offset{By: 0.1 + 3*dice.Float64(), Join: planar.Mitre, MitreLimit: float64(dice.IntN(4))}
		r := planar.Region{Rings: [][]geometry.Point{ring}}
		before, err := planar.Union(nil, r)
		if err != nil {
			t.Fatal(err)
		}
		after, err := o.Of(nil, r)
		if err != nil {
			t.Fatal(err)
		}
		cases = append(cases, judged{plain(before), plain(after), o.By})
	}
	judge(t, cases)
}

// A hole that touches a slanting side in one point of the grid stays on its
// own side of it in floating point.
func TestTouchingRingsStayValid(t *testing.T) {
	dice := rand.New(rand.NewPCG(21, 2))
	at := func(x, y int) geometry.Point {
		return geometry.Pt(0.1+float64(x)/planar.PerMM, 0.7+float64(y)/planar.PerMM)
	}
	var cases []judged
	for range 200 {
		x, y := 1000+dice.IntN(50_000), 1000+dice.IntN(50_000)
		k := 3 + dice.IntN(5)
		outer := []geometry.Point{at(0, 0), at(k*x, k*y), at(0, 3*k*y)}
		hole := []geometry.Point{at(x, y), at(x/4, k*y), at(x/2, k*y+100)}
		got, err := planar.Union(nil, planar.Region{Rings: [][]geometry.Point{outer, hole}, Rule: planar.EvenOdd})
		if err != nil {
			t.Fatal(err)
		}
		cases = append(cases, judged{After: plain(got)})
	}
	judge(t, cases)
}
