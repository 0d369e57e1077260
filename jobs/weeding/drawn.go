package weeding

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
)

// crossCuts lists by face the edges that join parts of its boundary: lines
// somebody drew across it, which open its rings as relief lines do.
func (c *cells) crossCuts() map[int32][]int32 {
	cuts := map[int32][]int32{}
	for i, e := range c.Edges {
		if e.Role == planar.Cut {
			cuts[e.Left] = append(cuts[e.Left], int32(i))
		}
	}
	return cuts
}

// walks returns the closed walks along the rings of a face and
// both sides of the cuts across it, the face on the left; of a bounded face
// the outer one first.
func (c *cells) walks(b *budget.Budget, face int32, cuts []int32) [][]planar.HalfEdge {
	t := newTracer(b, c)
	c.eachSide(face, t.add)
	for _, edge := range cuts {
		h := planar.HalfEdge(2 * edge)
		t.add(h)
		t.add(h.Twin())
	}
	return t.loops()
}

// boundary returns the half-edges of the rings of a face, of a bounded one those of the
// outer ring first.
func (c *cells) boundary(face int32) (rings [][]planar.HalfEdge) {
	if outer := c.Faces[face].Outer; outer != planar.NoRing {
		rings = append(rings, c.HalfEdges(outer))
	}
	for _, hole := range c.Holes(face) {
		rings = append(rings, c.HalfEdges(hole))
	}
	return rings
}

// corners returns the points at which half-edges begin.
func (c *cells) corners(b *budget.Budget, along []planar.HalfEdge) []geometry.Point {
	b.Spend(len(along))
	pts := make([]geometry.Point, len(along))
	for i, h := range along {
		pts[i] = c.Point(c.Start(h))
	}
	return pts
}
