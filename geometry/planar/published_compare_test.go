package planar_test

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// compare checks the result against the polygons of the expected one: number,
// holes, area, and no border farther away than two grid steps.
func (p *published) compare(got planar.Polygons) {
	areas, _, _ := p.parts(p.geometry(p.want))
	var want planar.Polygons
	for _, a := range areas {
		want = append(want, planar.Polygon{Outer: a.Rings[0], Holes: a.Rings[1:]})
	}
	bound := 2.0/planar.PerMM + p.slack
	want, got = withoutSlivers(want, bound), withoutSlivers(got, bound)
	holes := 0
	for _, w := range want {
		holes += len(w.Holes)
	}
	for _, g := range got {
		holes -= len(g.Holes)
	}
	if len(got) != len(want) || holes != 0 {
		p.t.Errorf("%s: %d polygons, expected %d; %d holes missing", p.name, len(got), len(want), holes)
		p.t.Log(p.scale, p.slack, got, want)
		return
	}
	for _, pair := range [][2]planar.Polygons{{got, want}, {want, got}} {
		for _, ring := range pair[0].Region().Rings {
			for _, pt := range ring {
				if d := borderDistance(pair[1], pt); d > bound {
					p.t.Errorf("%s: a corner lies %g mm from the other border, at %v", p.name, d, pt)
					return
				}
			}
		}
	}
	if off := math.Abs(plainArea(got) - plainArea(want)); off > bound*(got.Perimeter()+1) {
		p.t.Errorf("%s: area off by %g", p.name, off)
	}
}

// withoutSlivers leaves out rings that are nowhere wider than the bound on
// average: whether there is one depends on how crossings are rounded.
func withoutSlivers(ps planar.Polygons, bound float64) planar.Polygons {
	sliver := func(ring []geometry.Point) bool {
		one := planar.Polygons{{Outer: ring}}
		return 2*math.Abs(one.Area()) <= bound*one.Perimeter()
	}
	var kept planar.Polygons
	for _, p := range ps {
		if !sliver(p.Outer) {
			kept = append(kept, planar.Polygon{Outer: p.Outer, Holes: slices.DeleteFunc(slices.Clone(p.Holes), sliver)})
		}
	}
	return kept
}

// plainArea returns the area whichever way the rings run.
func plainArea(ps planar.Polygons) float64 {
	sum := 0.0
	for _, p := range ps {
		sum += math.Abs(planar.RingArea(p.Outer))
		for _, h := range p.Holes {
			sum -= math.Abs(planar.RingArea(h))
		}
	}
	return sum
}

// sameCorners reports whether the rings have the same corners.
func sameCorners(a, b []geometry.Point) bool {
	lacks := func(ring []geometry.Point) func(geometry.Point) bool {
		return func(p geometry.Point) bool {
			return !slices.ContainsFunc(ring, func(q geometry.Point) bool { return onGrid(p) == onGrid(q) })
		}
	}
	return !slices.ContainsFunc(a, lacks(b)) && !slices.ContainsFunc(b, lacks(a))
}
