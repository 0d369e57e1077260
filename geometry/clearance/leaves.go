package clearance

import (
	"math"

	"knifedesk/geometry"
)

// leaves reports whether the line from a point of edge i to another point
// begins on the inside. A ring that runs along both sides of a cut passes it
// twice, and only one of the two faces the other end.
func (t *tying) leaves(i int, from, to geometry.Point) bool {
	r := t.r
	e := &r.edges[i]
	v := to.Sub(from)
	switch from {
	case to:
		return true
	case e.a:
		return within(e.dir, v, r.edges[r.prev(i)].dir.Mul(-1))
	case e.b:
		return within(r.edges[r.next(i)].dir, v, e.dir.Mul(-1))
	}
	return e.dir.Cross(v) > 0
}

// within reports whether v is met on the way anticlockwise from a to b.
func within(a, v, b geometry.Point) bool {
	angle := func(u geometry.Point) float64 {
		t := math.Atan2(a.Cross(u), a.Dot(u))
		if t <= 0 {
			t += 2 * math.Pi
		}
		return t
	}
	return angle(v) <= angle(b)
}
