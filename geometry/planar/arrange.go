package planar

// Arrange cuts the plane along the lines.
//
// Coordinates are rounded to the grid of 0.1 µm and lines to chains of edges
// between grid points that stay within a grid step of the line; lines that
// shrink to a point are dropped. The result depends only on the lines and
// their order. The error is a *LineError with ErrNotFinite or ErrExtent.
func Arrange(lines []Line) (*Map, error) {
	g, err := gridFor(lines)
	if err != nil {
		return nil, err
	}
	d := distinct(lines, g)
	n := snapRound(d.segs)
	m := &Map{grid: g, nodes: n.vertices}
	m.merge(d, n)
	c := m.trace(m.followers())
	m.mark()
	m.nest(c)
	m.split(c)
	return m, nil
}
