// Package laid checks that areas which were laid side by side do not overlap and
// keep their distance, apart from all that laid them: by the planar kernel, and by
// distances between sides.
package laid

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// Check holds that the areas lie within a box, have no area in common, and are a
// clearance in mm away from each other, less a slack for rounding.
func Check(t testing.TB, areas []planar.Polygons, within geometry.Box, clearance, slack float64) {
	t.Helper()
	for i, a := range areas {
		if box := Bounds(a); !within.Grow(slack).ContainsBox(box) {
			t.Errorf("area %d from %v to %v leaves %v", i, box.Min, box.Max, within)
		}
		for k := range i {
			Apart(t, a, areas[k], clearance, slack, i, k)
		}
	}
}

// Apart holds that two areas have no area in common and keep their distance; names
// say which they are.
func Apart(t testing.TB, a, b planar.Polygons, clearance, slack float64, names ...any) {
	t.Helper()
	if !Bounds(a).Grow(clearance).Overlaps(Bounds(b)) {
		return
	}
	common, err := planar.Intersection(nil, a.Region(), b.Region())
	if err != nil {
		t.Fatal(err)
	}
	if area := common.Area(); area > 0 {
		t.Errorf("%+v overlap by %v mm²", names, area)
	}
	if d := Distance(a, b); d < clearance-slack {
		t.Errorf("%+v are %v mm apart, want %v", names, d, clearance)
	}
}

// Bounds returns the box round an area.
func Bounds(area planar.Polygons) geometry.Box {
	box := geometry.EmptyBox()
	for _, p := range area {
		box = box.Union(geometry.BoxAround(p.Outer...))
	}
	return box
}

// Distance returns the least distance between sides of two areas.
func Distance(a, b planar.Polygons) float64 {
	least := math.Inf(1)
	for _, r := range a.Region().Rings {
		for i, p := range r {
			for _, s := range b.Region().Rings {
				for k, q := range s {
					p2, q2 := r[(i+1)%len(r)], s[(k+1)%len(s)]
					least = min(least, toSide(p, q, q2), toSide(q, p, p2))
				}
			}
		}
	}
	return least
}

// toSide returns the distance from p to the line from a to b.
func toSide(p, a, b geometry.Point) float64 {
	u, v := b.Sub(a), p.Sub(a)
	k := 0.0
	if n := u.Dot(u); n > 0 {
		k = max(0, min(1, u.Dot(v)/n))
	}
	return p.Dist(a.Add(u.Mul(k)))
}
