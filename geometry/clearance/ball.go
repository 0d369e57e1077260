package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// site is a place on the boundary with a direction into the region.
type site struct {
	at     geometry.Point
	normal geometry.Point // unit, into the region
	edge   int            // the edge that carries it
	edge2  int            // the other edge at a corner, else -1
	along  float64        // length along the ring up to it
	share  float64        // length of the boundary that it stands for
}

// ball is a circle that touches the boundary at a site and holds no part of
// the boundary: a point of the medial axis, where it touches a second side.
type ball struct {
	centre geometry.Point
	radius float64
	foot   Foot // the second side; none where the ball was as large as allowed
	two    bool // it touches a second side
}

// largest returns the largest empty ball that touches the boundary at s and
// is no larger than limit (the shrinking ball of Ma, Bae and Choi, 2012, here
// against edges instead of samples: each step shrinks the ball until it
// passes through the boundary point nearest to its centre).
func (r *Region) largest(b *budget.Budget, s site, limit float64) ball {
	radius, _ := r.blocked(b, s, limit)
	return r.shrunk(b, s, radius)
}

// blocked returns a radius up to limit at which the ball at s holds a part of
// the boundary, and whether there is one; limit where there is none. Balls at one
// site lie in each other, so what blocks a small ball blocks all larger ones. On
// a rough edge a ball of the size of its sides mostly is blocked already, and
// looks at little of the boundary.
func (r *Region) blocked(b *budget.Budget, s site, limit float64) (radius float64, hit bool) {
	const growth = 4
	radius = r.edges[s.edge].size
	if s.edge2 >= 0 {
		radius = math.Max(radius, r.edges[s.edge2].size)
	}
	for {
		radius = math.Min(radius, limit)
		if _, hit = r.nearest(b, s.at.Add(s.normal.Mul(radius)), radius*(1-1e-9), s.edge, s.edge2); hit || radius == limit {
			return radius, hit
		}
		radius *= growth
	}
}

// shrunk returns the largest empty ball at s of at most the given radius.
func (r *Region) shrunk(b *budget.Budget, s site, radius float64) ball {
	c := ball{radius: radius}
	const steps = 60
	for range steps {
		c.centre = s.at.Add(s.normal.Mul(c.radius))
		foot, ok := r.nearest(b, c.centre, c.radius*(1-1e-9), s.edge, s.edge2)
		if !ok {
			return c
		}
		reach := foot.Point.Sub(s.at)
		towards := s.normal.Dot(reach)
		if towards <= 0 {
			return ball{centre: s.at, foot: foot, two: true}
		}
		c.radius = math.Min(c.radius, reach.Dot(reach)/(2*towards))
		c.foot, c.two = foot, true
	}
	return c
}

// onEdge returns the site at the fraction t of edge i, which begins at the
// length along of its ring.
func (r *Region) onEdge(i int, t, along float64) site {
	e := r.edges[i]
	return site{at: e.a.Lerp(e.b, t), normal: e.dir.Perp(), edge: i, edge2: -1, along: along + t*e.size}
}

// atCorner returns the site at the start of edge i whose normal is that of
// the edge p before it, turned by angle.
func (r *Region) atCorner(i, p int, angle, along float64) site {
	n := r.edges[p].dir.Perp()
	sin, cos := math.Sincos(angle)
	n = geometry.Pt(n.X*cos-n.Y*sin, n.X*sin+n.Y*cos)
	return site{at: r.edges[i].a, normal: n, edge: i, edge2: p, along: along}
}

// turn returns the angle by which the boundary turns at the start of edge i:
// positive at corners that stick out, negative at those that point inwards.
func (r *Region) turn(i int) float64 {
	d, e := r.edges[r.prev(i)].dir, r.edges[i].dir
	return math.Atan2(d.Cross(e), d.Dot(e))
}
