package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// Foot is the point of the boundary nearest to some point.
type Foot struct {
	Point geometry.Point
	Dist  float64
	edge  int
}

// Nearest returns the nearest point of the boundary and whether there is one
// closer than within. Of edges equally near it takes the first.
func (r *Region) Nearest(b *budget.Budget, p geometry.Point, within float64) (Foot, bool) {
	s := search{edges: r.edges, p: p, best: within * within, found: -1}
	if r.tree.oneLeaf() {
		s.visit(0, int32(len(r.edges)))
	} else {
		s.descend(&r.tree)
	}
	b.Spend(s.steps)
	return s.foot()
}

// foot returns what was found.
func (s *search) foot() (Foot, bool) {
	if s.found < 0 {
		return Foot{}, false
	}
	return Foot{Point: s.at, Dist: math.Sqrt(s.best), edge: int(s.found)}, true
}

// search collects the nearest edge seen so far.
type search struct {
	edges []edge
	p, at geometry.Point
	best  float64 // squared
	found int32
	steps int
}

// descend visits the leaves that may hold the nearest edge, the nearer of two
// boxes first.
func (s *search) descend(t *tree) {
	type box struct {
		node  int32
		apart float64
	}
	var below [64]box // no tree of int32 edges is deeper
	for rest := append(below[:0], box{0, t.nodes[0].apart(s.p)}); len(rest) > 0; {
		at := rest[len(rest)-1]
		rest = rest[:len(rest)-1]
		for at.apart <= s.best {
			s.steps++
			n := &t.nodes[at.node]
			if n.right == 0 {
				s.visit(n.from, n.to)
				break
			}
			near, far := box{at.node + 1, t.nodes[at.node+1].apart(s.p)}, box{n.right, t.nodes[n.right].apart(s.p)}
			if far.apart < near.apart {
				near, far = far, near
			}
			if far.apart <= s.best {
				rest = append(rest, far)
			}
			at = near
		}
	}
}

// visit looks at the edges from…to−1.
func (s *search) visit(from, to int32) {
	s.steps += 1 + int(to-from)
	for i := from; i < to; i++ {
		e := &s.edges[i]
		q := e.closest(s.p)
		dx, dy := q.X-s.p.X, q.Y-s.p.Y
		if d := dx*dx + dy*dy; d < s.best || (d == s.best && s.found > i) {
			s.best, s.at, s.found = d, q, i
		}
	}
}

// Inside reports whether p lies inside the region, by the parity of the edges
// that a ray along the x axis crosses.
func (r *Region) Inside(b *budget.Budget, p geometry.Point) bool {
	if !r.bounds.Contains(p) {
		return false
	}
	in := false
	if r.tree.oneLeaf() {
		b.Spend(len(r.edges))
		for i := range r.edges {
			if near.Crosses(r.edges[i].a, r.edges[i].b, p) != 0 {
				in = !in
			}
		}
		return in
	}
	reached := func(n *node) bool {
		return n.upright.Min.Y <= p.Y && p.Y <= n.upright.Max.Y && p.X <= n.upright.Max.X
	}
	r.tree.each(b, reached, func(from, to int32) bool {
		for i := from; i < to; i++ {
			if near.Crosses(r.edges[i].a, r.edges[i].b, p) != 0 {
				in = !in
			}
		}
		return true
	})
	return in
}
