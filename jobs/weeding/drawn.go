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

// walks returns the corners of the closed walks along the rings of a face and
// both sides of the cuts across it, the face on the left; of a bounded face
// the outer one first.
func (c *cells) walks(b *budget.Budget, face int32, cuts []int32) [][]geometry.Point {
	t := tracer{budget: b, c: c, out: map[int32][]planar.HalfEdge{}}
	c.eachSide(face, t.add)
	for _, edge := range cuts {
		h := planar.HalfEdge(2 * edge)
		t.add(h)
		t.add(h.Twin())
	}
	var walks [][]geometry.Point
	for _, loop := range t.loops() {
		b.Spend(len(loop))
		pts := make([]geometry.Point, len(loop))
		for i, h := range loop {
			pts[i] = c.Point(c.Start(h))
		}
		walks = append(walks, pts)
	}
	return walks
}
