package clearance

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Clear reports whether the straight line between two different points comes no
// nearer to the boundary than d mm.
func (r *Region) Clear(b *budget.Budget, from, to geometry.Point, d float64) bool {
	own := newEdge(from, to)
	clear := true
	close := func(n *node) bool {
		return geometry.BoxAround(n.frame(from), n.frame(to)).Grow(d).Overlaps(n.turned)
	}
	r.tree.each(b, close, func(first, end int32) bool {
		for i := first; i < end; i++ {
			clear = clear && own.gap(&r.edges[i]) >= d
		}
		return clear
	})
	return clear
}

// Gap returns the distance between the straight lines a to b and c to d, each
// of two different points, 0 where they cross.
func Gap(a, b, c, d geometry.Point) float64 {
	e, f := newEdge(a, b), newEdge(c, d)
	return e.gap(&f)
}

// gap returns the distance between two edges, 0 where they cross.
func (e *edge) gap(f *edge) float64 {
	if e.crosses(f) {
		return 0
	}
	gap := e.closest(f.a).Dist(f.a)
	gap = min(gap, e.closest(f.b).Dist(f.b))
	gap = min(gap, f.closest(e.a).Dist(e.a))
	return min(gap, f.closest(e.b).Dist(e.b))
}

func (e *edge) crosses(f *edge) bool {
	side := func(e *edge, p geometry.Point) bool { return e.b.Sub(e.a).Cross(p.Sub(e.a)) > 0 }
	return side(e, f.a) != side(e, f.b) && side(f, e.a) != side(f, e.b)
}
