package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

const (
	// mostTried is how many edges a convex region may have whose pole is found among all
	// circles that touch three of them.
	mostTried = 6
	// mostConvex is how many it may have so that the ball at a site is found by a look at
	// each of them.
	mostConvex = 64
)

// convexRegion is a region of which convex holds.
type convexRegion struct{ *Region }

// convex reports whether the region is one ring that never turns to its right and
// has few edges: most cells between lines that cross are, and small circles. The turns are those
// at the starts of its edges.
func (r *Region) convex(turns []float64) bool {
	if r.Rings() != 1 || len(r.edges) < 3 || len(r.edges) > mostConvex {
		return false
	}
	turned := 0.0
	for _, turn := range turns {
		if turn < 0 {
			return false
		}
		turned += turn
	}
	return turned < 3*math.Pi // once round
}

// pole returns the largest circle inside: the largest one that
// touches three sides and lies on the inner side of all. Where several are as large,
// as in a rectangle, it lies in their middle.
func (r convexRegion) pole() Pole {
	var best Pole
	as := 0.0 // how many are as large as the best
	n := len(r.edges)
	for i := range n {
		for j := i + 1; j < n; j++ {
			for k := j + 1; k < n; k++ {
				p, ok := r.touchesThree(i, j, k)
				if !ok || !r.holds(p) {
					continue
				}
				switch by := p.Radius - best.Radius; {
				case by > 1e-9*p.Radius:
					best, as = p, 1
				case by > -1e-9*p.Radius:
					as++
					best.Centre = best.Centre.Lerp(p.Centre, 1/as)
				}
			}
		}
	}
	return best
}

// touchesThree returns the circle on the inner side of three sides that touches all
// of them: of the middle x and the radius t, n·x − t = n·a for each.
func (r convexRegion) touchesThree(i, j, k int) (Pole, bool) {
	a := r.edges[i].a // about which, for precision
	n, o, p := r.edges[i].dir.Perp(), r.edges[j].dir.Perp(), r.edges[k].dir.Perp()
	u, v := o.Sub(n), p.Sub(n)
	det := u.Cross(v)
	if math.Abs(det) < 1e-9 {
		return Pole{}, false // two of them go the same way
	}
	c, d := o.Dot(r.edges[j].a.Sub(a)), p.Dot(r.edges[k].a.Sub(a))
	x := geometry.Pt((c*v.Y-d*u.Y)/det, (u.X*d-v.X*c)/det)
	return Pole{Centre: a.Add(x), Radius: n.Dot(x)}, true
}

// holds reports whether a circle lies on the inner side of all edges.
func (r convexRegion) holds(p Pole) bool {
	if p.Radius <= 0 {
		return false
	}
	for i := range r.edges {
		e := &r.edges[i]
		if e.dir.Perp().Dot(p.Centre.Sub(e.a)) < p.Radius*(1-1e-9) {
			return false
		}
	}
	return true
}

// facing returns how many edges face one of them. Circles inside
// touch no corner, so that only between such edges the region has a local width.
func (r convexRegion) facing(edge int) (n int) {
	const slack = 1e-6
	const least = facing - slack
	for i := range r.edges {
		if r.edges[i].dir.Dot(r.edges[edge].dir) <= -least {
			n++
		}
	}
	return n
}

const (
	straight = 1e-9 // the turn, in radians, up to which two edges are one side
	touched  = 1e-9 // the radius in mm below which a ball is none: the site lies on another side
)

// largest is Region.largest without a floor, where the ring turns at every corner. Circles
// inside touch sides and no corners, so that of each side its line tells: the ball at s
// that touches it has the radius that touching derives.
func (r convexRegion) largest(b *budget.Budget, s site, limit float64) ball {
	b.Spend(len(r.edges) / 4) // a few products each
	least, found := limit*(1+slack), false
	for i := range r.edges {
		if e := &r.edges[i]; i != s.edge {
			if apart, slant := e.seen(s); apart <= least*slant && slant > 0 {
				least, found = apart/slant, true
			}
		}
	}
	if !found {
		g := shrinking{site: s}
		g.resize(limit)
		return g.ball
	}
	edge := r.facingMost(s, least)
	if least < touched {
		return ball{centre: s.at, foot: Foot{Point: s.at, edge: edge}, two: true}
	}
	return touching(r.Region, s, edge)
}

// facingMost returns, of the sides that the largest ball at s touches, that which faces
// it most: of such as face it alike the first.
func (r convexRegion) facingMost(s site, radius float64) (edge int) {
	const alike = 1e-6
	most := math.Inf(-1)
	for i := range r.edges {
		if apart, slant := r.edges[i].seen(s); i != s.edge && apart <= radius*(1+slack)*slant && slant > most+alike {
			edge, most = i, slant
		}
	}
	return edge
}

// seen returns how far the line of an edge lies from a site, and how much it faces it: 2 where
// it is met squarely, 0 where it runs the way of the site's own edge.
func (e *edge) seen(s site) (apart, slant float64) {
	x, y := s.at.X-e.a.X, s.at.Y-e.a.Y
	return max(0, e.dir.X*y-e.dir.Y*x), 1 + s.normal.X*e.dir.Y - s.normal.Y*e.dir.X
}
