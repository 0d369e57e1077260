package outline

import "slices"

// convexParts cuts the area of rings into convex polygons that have corners of
// the rings alone, so that they are exact: holes are joined to their outer ring
// by bridges, ears are cut off (Meisters 1975), and neighbours are put together
// as long as they stay convex (Hertel and Mehlhorn 1983). A ring that this
// fails for, since it touches itself, stands in as its convex hull.
func convexParts(rings [][]Point) [][]Point {
	var parts [][]Point
	for _, outer := range rings {
		area := ringArea(outer)
		if area <= 0 {
			continue
		}
		var holes [][]Point
		for _, hole := range rings {
			if inner := ringArea(hole); inner < 0 && inside(outer, hole[0]) && !inBetween(rings, outer, hole) {
				holes = append(holes, hole)
				area += inner
			}
		}
		triangles, cut := ears(bridged(outer, holes))
		if cut != area {
			parts = append(parts, hull([][]Point{outer}))
			continue
		}
		parts = append(parts, joined(triangles)...)
	}
	return parts
}

// inBetween reports whether another outer ring lies in outer and round hole.
func inBetween(rings [][]Point, outer, hole []Point) bool {
	for _, r := range rings {
		if a := ringArea(r); a > 0 && a < ringArea(outer) && inside(r, hole[0]) && inside(outer, r[0]) {
			return true
		}
	}
	return false
}

// inside reports whether p lies in the ring; a corner of it may count either way.
func inside(ring []Point, p Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && (cross(a, b, p) > 0) == (b.Y > a.Y) {
			in = !in
		}
	}
	return in
}

// bridged returns one ring that runs round the outer one and, over bridges
// there and back, round the holes.
func bridged(outer []Point, holes [][]Point) []Point {
	rightmost := func(ring []Point) int {
		best := 0
		for i, p := range ring {
			if p.X > ring[best].X {
				best = i
			}
		}
		return best
	}
	holes = slices.Clone(holes)
	slices.SortStableFunc(holes, func(a, b []Point) int {
		return compare(b[rightmost(b)].X, a[rightmost(a)].X)
	})
	ring := slices.Clone(outer)
	for _, hole := range holes {
		start := rightmost(hole)
		at := sight(ring, holes, hole[start])
		if at < 0 {
			continue // the areas will not agree
		}
		var next []Point
		next = append(next, ring[:at+1]...)
		for i := range len(hole) + 1 {
			next = append(next, hole[(start+i)%len(hole)])
		}
		ring = append(next, ring[at:]...)
	}
	return ring
}

// sight returns the nearest corner of the ring that is seen from p, with no
// side of the ring or of a hole between; or -1.
func sight(ring []Point, holes [][]Point, p Point) int {
	best, least := -1, 0.0
	for i, q := range ring {
		dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
		d := float64(dx*dx) + float64(dy*dy)
		if best >= 0 && d >= least || q == p {
			continue
		}
		n := len(ring)
		a, b := ring[(i+n-1)%n], ring[(i+1)%n]
		if !between(a, q, b, p) || hidden(ring, p, q) {
			continue
		}
		seen := true
		for _, hole := range holes {
			seen = seen && !hidden(hole, p, q)
		}
		if seen {
			best, least = i, d
		}
	}
	return best
}

// between reports whether p lies on the inner side of the corner q between its
// neighbours a and b.
func between(a, q, b, p Point) bool {
	if cross(a, q, b) > 0 {
		return cross(a, q, p) > 0 && cross(q, b, p) > 0
	}
	return cross(a, q, p) > 0 || cross(q, b, p) > 0
}

// hidden reports whether a side of the ring meets the line from p to q, other
// than in its ends.
func hidden(ring []Point, p, q Point) bool {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if a == p || a == q || b == p || b == q {
			if c := a; (c == p || c == q) && onLine(p, q, b) || (b == p || b == q) && onLine(p, q, a) {
				return true
			}
			continue
		}
		s, t := cross(p, q, a), cross(p, q, b)
		u, v := cross(a, b, p), cross(a, b, q)
		if (s >= 0) != (t > 0) && (u >= 0) != (v > 0) || onLine(p, q, a) {
			return true
		}
	}
	return false
}

// onLine reports whether c lies within the line from p to q.
func onLine(p, q, c Point) bool {
	if c == p || c == q || cross(p, q, c) != 0 {
		return false
	}
	return min(p.X, q.X) <= c.X && c.X <= max(p.X, q.X) && min(p.Y, q.Y) <= c.Y && c.Y <= max(p.Y, q.Y)
}
