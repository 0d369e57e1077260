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
	g := &r.grid
	best := Hit{Dist: limit}
	found := false
	col, row := g.col(from.X), g.row(from.Y)
	nextX, stepX := crossings(from.X-g.min.X, dir.X, g.cell, col)
	nextY, stepY := crossings(from.Y-g.min.Y, dir.Y, g.cell, row)
	for done := 0.0; col >= 0 && col < g.cols && row >= 0 && row < g.rows && done <= best.Dist; {
		edges := g.at(col, row)
		b.Spend(1 + len(edges))
		for _, i := range edges {
			if t, ok := r.edges[i].meet(from, dir); ok && t < best.Dist {
				e := r.edges[i]
				p := from.Add(dir.Mul(t))
				best = Hit{p, t, e.ring, e.along + e.a.Dist(p), math.Abs(dir.Dot(e.dir.Perp()))}
				found = true
			}
		}
		if nextX < nextY {
			done, nextX, col = nextX, nextX+stepX, col+sign(dir.X)
		} else {
			done, nextY, row = nextY, nextY+stepY, row+sign(dir.Y)
		}
	}
	return best, found
}

// crossings returns the length along the ray to the first border between
// cells on one axis, and from one border to the next.
func crossings(at, dir, cell float64, index int) (first, step float64) {
	switch {
	case dir > 0:
		return (float64(index+1)*cell - at) / dir, cell / dir
	case dir < 0:
		return (float64(index)*cell - at) / dir, -cell / dir
	}
	return math.Inf(1), math.Inf(1)
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

// meet returns how far along the ray the edge lies.
func (e edge) meet(from, dir geometry.Point) (float64, bool) {
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
		n := math.Max(1, math.Min(math.Ceil(r.edges[i].size/spacing), 1e4))
		for k := 0.5; k < n; k++ {
			b.Step()
			s := r.onEdge(i, k/n, r.edges[i].along)
			f(r.edges[i].ring, s.along, s.at, s.normal)
		}
	}
}
