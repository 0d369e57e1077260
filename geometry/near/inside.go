package near

import "knifedesk/geometry"

// Crosses returns how the side from a to b crosses the ray from p to the right:
// 1 upwards, −1 downwards, 0 not at all. A side belongs to its lower end and
// not to its upper one, so that a ray through a corner counts it once. Where p
// lies on the side to within rounding, either may come out.
func Crosses(a, b, p geometry.Point) int {
	switch {
	case (a.Y > p.Y) == (b.Y > p.Y) || p.X >= a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X):
		return 0
	case b.Y > a.Y:
		return 1
	}
	return -1
}

// Winding returns how often a ring runs round p, anticlockwise positive. The
// last point is joined to the first, whether or not it repeats it.
func Winding(ring []geometry.Point, p geometry.Point) int {
	if len(ring) == 0 {
		return 0
	}
	n, a := 0, ring[len(ring)-1]
	for _, b := range ring {
		n += Crosses(a, b, p)
		a = b
	}
	return n
}

// Inside reports whether p lies inside the rings by the even-odd rule.
func Inside(p geometry.Point, rings ...[]geometry.Point) bool {
	n := 0
	for _, ring := range rings {
		n += Winding(ring, p)
	}
	return n%2 != 0
}
