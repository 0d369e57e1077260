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
	r := newRegion(b, rings)
	beside := r.edges[:0]
	for _, e := range r.edges {
		if math.Max(e.a.Y, e.b.Y) >= box.Min.Y && math.Min(e.a.Y, e.b.Y) <= box.Max.Y && math.Max(e.a.X, e.b.X) >= box.Min.X {
			beside = append(beside, e) // a ray to the right from inside the box may meet it
		}
	}
	r.edges = beside
	r.tree = newTree(b, r.edges, r.thick)
	return Window{r}
}

// Inside reports whether a place in the box lies inside the region.
func (w Window) Inside(b *budget.Budget, p geometry.Point) bool { return w.region.Inside(b, p) }

// Off returns how far a place in the box lies off the boundary, and whether that is less
// than within mm, which may not reach out of the box.
func (w Window) Off(b *budget.Budget, p geometry.Point, within float64) (float64, bool) {
	foot, ok := w.region.Nearest(b, p, within)
	return foot.Dist, ok
}
