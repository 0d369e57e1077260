package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Window is as much of a region as tells of places inside a box whether they lie in the
// region, and how near to what of the boundary lies in the box. It takes O(n) steps for n
// edges where few of them are beside the box, in place of the O(n log n) of NewRegion.
type Window struct{ region *Region }

// NewWindow returns the window in a box of the region of some rings, as NewRegion takes
// them.
func NewWindow(b *budget.Budget, box geometry.Box, rings ...[]geometry.Point) Window {
	r := &Region{bounds: geometry.EmptyBox()}
	for i, ring := range rings {
		b.Spend(len(ring))
		r.addBeside(box, ring, (signedArea(ring) < 0) != (i > 0))
	}
	r.tree = newTree(b, r.edges, math.Inf(1))
	return Window{r}
}

// addBeside adds those edges of a ring that a ray to the right from inside the box may
// meet. Those that follow each other count as a ring.
func (r *Region) addBeside(box geometry.Box, ring []geometry.Point, turn bool) {
	n, number := len(ring), int32(len(r.edges))
	for i := range ring {
		p, q := ring[i], ring[(i+1)%n]
		if turn {
			p, q = ring[n-1-i], ring[(2*n-2-i)%n]
		}
		widen(&r.bounds, p)
		switch {
		case p == q:
		case max(p.Y, q.Y) >= box.Min.Y && min(p.Y, q.Y) <= box.Max.Y && max(p.X, q.X) >= box.Min.X:
			e := newEdge(p, q)
			e.ring = number
			r.edges = append(r.edges, e)
		default:
			number++
		}
	}
}

// Inside reports whether a place in the box lies inside the region.
func (w Window) Inside(b *budget.Budget, p geometry.Point) bool { return w.region.Inside(b, p) }

// Off returns how far a place in the box lies off the boundary, and whether that is less
// than within mm, which may not reach out of the box.
func (w Window) Off(b *budget.Budget, p geometry.Point, within float64) (float64, bool) {
	foot, ok := w.region.Nearest(b, p, within)
	return foot.Dist, ok
}
