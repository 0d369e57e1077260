package weeding

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// framedShare is the share of its box that a lone outer outline fills when it
// is a plate and not a letter with a counter: a rectangle fills all of it, one
// with round corners nearly all, an ellipse 0.785.
const framedShare = 0.9

// needsBorder reports whether a weed border is to be added: on film, where it is
// wanted, but not round artwork that is lifted out of the film round it.
func (s *arranged) needsBorder() bool {
	return s.req.Border && s.limits.BorderMM > 0 && s.req.Stock.Liner && !s.cells.bounds.Empty() && !s.leavesSurround()
}

// leavesSurround reports whether the film round the work is left on its backing: where
// one outline frames all of it, which is then lifted out. Heat film goes under the press
// on its carrier, and what is not peeled off is pressed on too.
func (s *arranged) leavesSurround() bool {
	return s.req.Stock.Family != workshop.HeatFilm && s.cells.framed(s.budget)
}

// framed reports whether one plate-like outline holds everything else.
func (c *cells) framed(b *budget.Budget) bool {
	outside := c.Holes(0)
	if len(outside) != 1 {
		return false
	}
	plate := c.Face(c.HalfEdges(outside[0])[0].Twin())
	return len(c.Holes(plate)) > 0 && c.plateLike(b, outside[0], framedShare)
}

// plateLike reports whether an outermost outline, a hole of the outside, fills
// that share of its box.
func (c *cells) plateLike(b *budget.Budget, outline planar.Ring, share float64) bool {
	edges := c.HalfEdges(outline)
	b.Spend(2 * len(edges))
	box, area := geometry.EmptyBox(), 0.0
	for _, h := range edges {
		box = box.Include(c.Point(c.Start(h)))
		area -= c.crossOf(h) / 2
	}
	return area >= share*box.Width()*box.Height()
}

// crossOf returns twice the area between h and the map's first corner.
func (c *cells) crossOf(h planar.HalfEdge) float64 {
	o := c.Point(0)
	return c.Point(c.Start(h)).Sub(o).Cross(c.Point(c.End(h)).Sub(o))
}

// border returns the weed border along box.
func border(box geometry.Box) artwork.Stroke {
	return artwork.Stroke{Path: box.Path(), Operation: artwork.KissCut, Shape: -1, Added: artwork.Border}
}
