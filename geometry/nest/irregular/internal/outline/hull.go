package outline

import "slices"

// cross returns twice the area of the triangle o, a, b: positive where the turn
// at a is to the left. It is exact for pieces of up to 100 m.
func cross(o, a, b Point) int64 {
	return (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X)
}

// ringArea returns twice the area of a ring, in steps squared, negative where it
// runs clockwise.

func ringArea(ring []Point) int64 {
	sum := int64(0)
	for i := 2; i < len(ring); i++ {
		sum += cross(ring[0], ring[i-1], ring[i])
	}
	return sum
}

func doubleArea(ring []Point) float64 { return float64(ringArea(ring)) }

// Hull returns the convex hull of the corners of all rings, anticlockwise
// (Andrew 1979).
func Hull(rings [][]Point) []Point { return hull(rings) }

func hull(rings [][]Point) []Point {
	var all []Point
	for _, ring := range rings {
		all = append(all, ring...)
	}
	slices.SortFunc(all, func(p, q Point) int {
		if p.X != q.X {
			return compare(p.X, q.X)
		}
		return compare(p.Y, q.Y)
	})
	all = slices.Compact(all)
	var out []Point
	for range 2 {
		base := len(out)
		for _, p := range all {
			for len(out) >= base+2 && cross(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		slices.Reverse(all)
	}
	return out
}

func compare(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Same reports whether two outlines are equal in their boxes, so that one may
// stand for the other.
func (o *Outline) Same(p *Outline) bool {
	if o.W != p.W || o.H != p.H || len(o.Rings) != len(p.Rings) {
		return false
	}
	for _, ring := range o.Rings {
		if !slices.ContainsFunc(p.Rings, func(other []Point) bool { return equal(ring, other) }) {
			return false
		}
	}
	return true
}

// equal reports whether two rings have the same corners in the same order.
func equal(r, s []Point) bool {
	if len(r) != len(s) {
		return false
	}
	at := slices.Index(s, r[0])
	if at < 0 {
		return false
	}
	for i, p := range r {
		if s[(at+i)%len(s)] != p {
			return false
		}
	}
	return true
}
