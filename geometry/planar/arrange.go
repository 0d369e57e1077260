package planar

import "knifedesk/geometry/budget"

// Arrange cuts the plane along the lines.
//
// Coordinates are rounded to the grid of 0.1 µm and lines to chains of edges
// between grid points that stay within a grid step of the line; lines that
// shrink to a point are dropped. The result depends only on the lines and
// their order. The error is a *LineError with ErrNotFinite or ErrExtent.
func Arrange(b *budget.Budget, lines []Line) (*Map, error) {
	b.Spend(len(lines))
	g, err := gridFor(lines)
	if err != nil {
		return nil, err
	}
	d := distinct(b, lines, g)
	n := snapRound(b, d.segs)
	m := &Map{grid: g, nodes: n.vertices}
	m.merge(b, d, n)
	m.build(b)
	return m, nil
}

// build finds the faces from the vertices and edges.
func (m *Map) build(b *budget.Budget) {
	c := trace(b, m)
	c.mark(b)
	c.nest(b)
	c.split(b)
}
