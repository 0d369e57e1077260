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
		if math.Abs(p.X) <= farthest && math.Abs(p.Y) <= farthest {
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
