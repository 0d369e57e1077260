package table

import "knifedesk/geometry/nest/irregular/internal/outline"

// differ returns the ways from a body with the convex part p to one with the
// convex part q at which the two overlap: the corners, anticlockwise, of the
// convex polygon of all differences of a point of p and one of q, whose inside
// they are (Minkowski's sum of p and of q turned by a half).
func differ(p, q []outline.Point) []outline.Point {
	low, high := lowest(p), highest(q)
	out := make([]outline.Point, 0, len(p)+len(q))
	for i, k := 0, 0; i < len(p) || k < len(q); {
		a, b := p[(low+i)%len(p)], p[(low+i+1)%len(p)]
		c, d := q[(high+k)%len(q)], q[(high+k+1)%len(q)]
		out = append(out, outline.Point{X: a.X - c.X, Y: a.Y - c.Y})
		turn := (b.X-a.X)*(c.Y-d.Y) - (b.Y-a.Y)*(c.X-d.X)
		switch {
		case k == len(q) || i < len(p) && turn > 0:
			i++
		case i == len(p) || turn < 0:
			k++
		default: // both sides run the same way: one side of the two
			i++
			k++
		}
	}
	return out
}

// lowest returns the index of the lowest corner, the leftmost of several.
func lowest(ring []outline.Point) int {
	best := 0
	for i, p := range ring {
		if q := ring[best]; p.Y < q.Y || p.Y == q.Y && p.X < q.X {
			best = i
		}
	}
	return best
}

// highest returns the index of the highest corner, the rightmost of several.
func highest(ring []outline.Point) int {
	best := 0
	for i, p := range ring {
		if q := ring[best]; p.Y > q.Y || p.Y == q.Y && p.X > q.X {
			best = i
		}
	}
	return best
}

// double returns twice the area of a convex polygon.
func double(ring []outline.Point) int64 {
	sum := int64(0)
	for i := 2; i < len(ring); i++ {
		o, a, b := ring[0], ring[i-1], ring[i]
		sum += (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X)
	}
	return sum
}
