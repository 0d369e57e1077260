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

// needsBorder reports whether a weed border is to be added: on film, where it
// is wanted, round artwork that is not framed by an outline of its own.
func (s *arranged) needsBorder() bool {
	return s.req.Border && s.limits.BorderMM > 0 && s.req.Stock.Liner && !s.cells.bounds().Empty() && !s.cells.framed(s.budget)
}

// framed reports whether one plate-like outline holds everything else.
func (c *cells) framed(b *budget.Budget) bool {
	outside := c.Holes(0)
	if len(outside) != 1 {
		return false
	}
	plate := c.Face(c.HalfEdges(outside[0])[0].Twin())
	if len(c.Holes(plate)) == 0 {
		return false
	}
	box := c.box(b, plate)
	area := 0.0
	b.Spend(len(c.HalfEdges(outside[0])))
	for _, h := range c.HalfEdges(outside[0]) {
		area -= c.crossOf(h) / 2
	}
	return area >= framedShare*box.Width()*box.Height()
}

// crossOf returns twice the area between h and the map's first corner.
func (c *cells) crossOf(h planar.HalfEdge) float64 {
	o := c.Point(0)
	return c.Point(c.Start(h)).Sub(o).Cross(c.Point(c.End(h)).Sub(o))
}

// bounds returns the box of the cut lines.
func (c *cells) bounds() geometry.Box {
	b := geometry.EmptyBox()
	for _, l := range c.lines {
		b = b.Include(l.A).Include(l.B)
	}
	return b
}

// border returns the weed border round box.
func border(box geometry.Box, limits workshop.Limits) artwork.Stroke {
	return artwork.Stroke{
		Path: box.Grow(limits.BorderMM).Path(), Operation: artwork.KissCut, Shape: -1, Added: artwork.Border,
	}
}
