package drawing

import (
	"math"

	"knifedesk/geometry"
)

// Reach returns the box of those points of paths whose coordinates are at most
// farthest from 0, empty where there are none: where a shape lies of which a
// part is lost.
func Reach(paths []geometry.Path, farthest float64) geometry.Box {
	b := geometry.EmptyBox()
	include := func(p geometry.Point) {
		if near(p, farthest) {
			b = b.Include(p)
		}
	}
	for _, p := range paths {
		include(p.Start)
		for _, s := range p.Segments {
			include(s.End)
		}
	}
	return b
}

// Ordinary reports whether paths can be computed with: all their points lie at
// most farthest from 0, and control points, which may lie outside the curve, at
// most a hundred times as far. Beyond that the box of a curve is no longer true.
func Ordinary(paths []geometry.Path, farthest float64) bool {
	const outside = 100
	for _, p := range paths {
		if !near(p.Start, farthest) {
			return false
		}
		for _, s := range p.Segments {
			curved := near(s.C1, outside*farthest) && near(s.C2, outside*farthest) && s.Bulge >= -1 && s.Bulge <= 1
			if !near(s.End, farthest) || !curved {
				return false
			}
		}
	}
	return true
}

// near reports whether the coordinates of p are numbers at most far from 0.
func near(p geometry.Point, far float64) bool { return math.Abs(p.X) <= far && math.Abs(p.Y) <= far }
