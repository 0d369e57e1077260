package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Hit is where a ray meets the boundary.
type Hit struct {
	Point geometry.Point
	Dist  float64
	Ring  int
	// Along is how far round the ring it lies, in mm, the region on its left.
	Along float64
	// Square is the cosine of the angle between the ray and the normal of the
	// edge: 1 where it is met squarely.
	Square float64
}

// Cast follows the ray from a point inside the region along the unit vector
// dir to the boundary, no farther than limit mm.
func (r *Region) Cast(b *budget.Budget, from, dir geometry.Point, limit float64) (Hit, bool) {
	best, edge := Hit{Dist: limit}, int32(-1)
	struck := func(n *node) bool { return n.struck(from, dir, best.Dist) }
	r.tree.each(b, struck, func(first, to int32) bool {
		for i := first; i < to; i++ {
			e := &r.edges[i]
			if t, ok := e.meet(from, dir); ok && (t < best.Dist || t == best.Dist && i < edge) {
				p := from.Add(dir.Mul(t))
				best = Hit{p, t, int(e.ring), e.along + e.a.Dist(p), math.Abs(dir.Dot(e.dir.Perp()))}
				edge = i
			}
		}
		return true
	})
	return best, edge >= 0
}

// struck reports whether the ray from a point along dir meets the turned box
// within limit mm.
func (n *node) struck(from, dir geometry.Point, limit float64) bool {
	p, u := n.frame(from), n.frame(dir)
	x0, x1 := stretch(p.X, u.X, n.turned.Min.X, n.turned.Max.X)
	y0, y1 := stretch(p.Y, u.Y, n.turned.Min.Y, n.turned.Max.Y)
	return max(max(x0, y0), 0) <= min(min(x1, y1), limit)
}

// stretch returns between which lengths along a ray one coordinate, which
// begins at from and grows by slope, lies between lo and hi.
func stretch(from, slope, lo, hi float64) (first, last float64) {
	if slope == 0 {
		if from < lo || from > hi {
			return math.Inf(1), math.Inf(-1)
		}
		return math.Inf(-1), math.Inf(1)
	}
	first, last = (lo-from)/slope, (hi-from)/slope
	return min(first, last), max(first, last)
}

// meet returns how far along the ray the edge lies.
func (e *edge) meet(from, dir geometry.Point) (float64, bool) {
	a, b := e.a.Sub(from), e.b.Sub(from)
	sa, sb := dir.Cross(a), dir.Cross(b)
	if (sa > 0) == (sb > 0) {
		return 0, false
	}
	t := (a.Mul(sb).Sub(b.Mul(sa))).Dot(dir) / (sb - sa)
	return t, t > 0
}

// Middles calls f for points on the holes' edges, at the middle of each and
// every spacing along it, with how far round the ring each lies and the unit
// normal into the region.
func (r *Region) Middles(b *budget.Budget, spacing float64, f func(ring int, along float64, at, normal geometry.Point)) {
	for i := r.first[min(1, r.Rings())]; i < len(r.edges); i++ {
		n := max(1, min(math.Ceil(r.edges[i].size/spacing), 1e4))
		for k := 0.5; k < n; k++ {
			b.Step()
			s := r.onEdge(i, k/n, r.edges[i].along)
			f(int(r.edges[i].ring), s.along, s.at, s.normal)
		}
	}
}
