package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Clear reports whether the straight line between two different points comes no
// nearer to the boundary than d mm.
func (r *Region) Clear(b *budget.Budget, from, to geometry.Point, d float64) bool {
	g := &r.grid
	box := geometry.BoxAround(from, to).Grow(d)
	own := newEdge(from, to, -1)
	r0, r1 := g.row(box.Min.Y), g.row(box.Max.Y)
	c0, c1 := g.col(box.Min.X), g.col(box.Max.X)
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			edges := g.at(col, row)
			b.Spend(1 + len(edges))
			for _, i := range edges {
				if own.gap(&r.edges[i]) < d {
					return false
				}
			}
		}
	}
	return true
}

// gap returns the distance between two edges, 0 where they cross.
func (e *edge) gap(f *edge) float64 {
	if e.crosses(f) {
		return 0
	}
	gap := e.closest(f.a).Dist(f.a)
	gap = math.Min(gap, e.closest(f.b).Dist(f.b))
	gap = math.Min(gap, f.closest(e.a).Dist(e.a))
	return math.Min(gap, f.closest(e.b).Dist(e.b))
}

func (e *edge) crosses(f *edge) bool {
	side := func(e *edge, p geometry.Point) bool { return e.b.Sub(e.a).Cross(p.Sub(e.a)) > 0 }
	return side(e, f.a) != side(e, f.b) && side(f, e.a) != side(f, e.b)
}
