package outline

import "slices"

// ears cuts a ring into triangles, and returns them with twice the area that
// they cover.
func ears(ring []Point) (triangles [][]Point, area int64) {
	ring = slices.Clone(ring)
	for len(ring) >= 3 {
		at := ear(ring)
		if at < 0 {
			return triangles, area
		}
		n := len(ring)
		a, b, c := ring[(at+n-1)%n], ring[at], ring[(at+1)%n]
		if double := cross(a, b, c); double > 0 {
			triangles = append(triangles, []Point{a, b, c})
			area += double
		}
		ring = slices.Delete(ring, at, at+1)
	}
	return triangles, area
}

// ear returns a corner that can be cut off: the one whose triangle is the
// fattest, or a corner without area; -1 where there is none.
func ear(ring []Point) int {
	best, fattest := -1, 0.0
	for i, b := range ring {
		n := len(ring)
		a, c := ring[(i+n-1)%n], ring[(i+1)%n]
		double := cross(a, b, c)
		if double == 0 {
			return i
		}
		if double < 0 {
			continue
		}
		dx, dy := float64(c.X-a.X), float64(c.Y-a.Y)
		fat := float64(double) / (float64(dx*dx) + float64(dy*dy))
		if fat > fattest && clear(ring, a, b, c) {
			best, fattest = i, fat
		}
	}
	return best
}

// clear reports whether no other corner of the ring lies in the triangle.
func clear(ring []Point, a, b, c Point) bool {
	for _, p := range ring {
		if p == a || p == b || p == c {
			continue
		}
		if cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

// joined puts neighbouring parts together while they stay convex.
func joined(parts [][]Point) [][]Point {
	for i := 0; i < len(parts); i++ {
		for k := i + 1; k < len(parts); k++ {
			if whole := weld(parts[i], parts[k]); whole != nil {
				parts[i] = whole
				parts = slices.Delete(parts, k, k+1)
				k = i // more of them may fit now
			}
		}
	}
	return parts
}

// weld returns the convex polygon that p and q make up where they share a side,
// or nil.
func weld(p, q []Point) []Point {
	for i, a := range p {
		b := p[(i+1)%len(p)]
		for k, c := range q {
			if c != b || q[(k+1)%len(q)] != a {
				continue
			}
			var whole []Point
			for s := range len(p) - 1 { // from b round to the corner before a
				whole = append(whole, p[(i+1+s)%len(p)])
			}
			for s := range len(q) - 1 { // from a round to the corner before b
				whole = append(whole, q[(k+1+s)%len(q)])
			}
			return convex(whole)
		}
	}
	return nil
}

// convex returns the ring without corners that lie straight, or nil where it
// turns to the right.
func convex(ring []Point) []Point {
	var out []Point
	for i, b := range ring {
		n := len(ring)
		switch turn := cross(ring[(i+n-1)%n], b, ring[(i+1)%n]); {
		case turn < 0:
			return nil
		case turn > 0:
			out = append(out, b)
		}
	}
	return out
}
