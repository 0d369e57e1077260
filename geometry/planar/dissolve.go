package planar

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// selection is the area of some of the faces of a map. The unbounded face does
// not count.
type selection struct {
	m      *Map
	chosen []bool // by face
}

func (s selection) holds(face int32) bool { return face != 0 && s.chosen[face] }

// dissolve returns the area, without the edges between two chosen faces.
// Corners that lie exactly on a straight line between their neighbours are left
// out, unless another ring touches there: in floating point the line between the
// neighbours may pass on either side of it.
func (s selection) dissolve(b *budget.Budget) Polygons {
	border, left := s.border(b)
	sides := make([]int, len(border.nodes))
	for _, e := range border.Edges {
		b.Step()
		sides[e.From]++
		sides[e.To]++
	}
	var ps Polygons
	for f := int32(1); f < int32(len(border.Faces)); f++ {
		h := border.HalfEdges(border.Faces[f].Outer)[0]
		if left[h.Edge()] != (h&1 == 0) {
			continue
		}
		p := Polygon{Outer: corners(b, border, border.Faces[f].Outer, sides)}
		for _, r := range border.Holes(f) {
			p.Holes = append(p.Holes, corners(b, border, r, sides))
		}
		ps = append(ps, p)
	}
	return ps
}

// border returns the map of the edges that bound the area, unchanged and in
// the same order, and by edge whether the area lies on its left. Vertices
// without edges go.
func (s selection) border(b *budget.Budget) (border *Map, left []bool) {
	border = &Map{grid: s.m.grid}
	number := make([]int32, len(s.m.nodes)) // in border, plus one
	vertex := func(v int32) int32 {
		if number[v] == 0 {
			border.nodes = append(border.nodes, s.m.nodes[v])
			number[v] = int32(len(border.nodes))
		}
		return number[v] - 1
	}
	for _, e := range s.m.Edges {
		b.Step()
		if s.holds(e.Left) == s.holds(e.Right) {
			continue
		}
		left = append(left, s.holds(e.Left))
		border.Edges = append(border.Edges, Edge{From: vertex(e.From), To: vertex(e.To)})
	}
	border.build(b)
	return border, left
}

// corners returns the points of a ring of m at which it turns or more than two
// sides meet, the number of which is given by vertex.
func corners(b *budget.Budget, m *Map, r Ring, sides []int) []geometry.Point {
	var pts []geometry.Point
	halves := m.HalfEdges(r)
	b.Spend(len(halves))
	for i, h := range halves {
		before := halves[(i+len(halves)-1)%len(halves)]
		if v := m.Start(h); sides[v] > 2 || cross(m.nodes[m.Start(before)], m.nodes[v], m.nodes[m.End(h)]) != 0 {
			pts = append(pts, m.Point(v))
		}
	}
	return pts
}
