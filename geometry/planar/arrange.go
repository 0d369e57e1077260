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
	m.build()
	return m, nil
}

// build finds the faces from the vertices and edges.
func (m *Map) build() {
	c := m.trace(m.followers())
	m.mark()
	m.nest(c)
	m.split(c)
}

// Keep returns the map of the edges for which keep is true, unchanged and in
// the same order, with their sources. Vertices without edges go.
func (m *Map) Keep(keep func(edge int32) bool) *Map {
	k := &Map{grid: m.grid}
	number := make([]int32, len(m.nodes)) // in k, plus one
	vertex := func(v int32) int32 {
		if number[v] == 0 {
			k.nodes = append(k.nodes, m.nodes[v])
			number[v] = int32(len(k.nodes))
		}
		return number[v] - 1
	}
	for i, e := range m.Edges {
		if !keep(int32(i)) {
			continue
		}
		from, to := m.sourceStart[i], m.sourceStart[i+1]
		k.Edges = append(k.Edges, Edge{From: vertex(e.From), To: vertex(e.To)})
		k.sourceStart = append(k.sourceStart, int32(len(k.sources)))
		k.sources = append(k.sources, m.sources[from:to]...)
		k.against = append(k.against, m.against[from:to]...)
	}
	k.sourceStart = append(k.sourceStart, int32(len(k.sources)))
	k.build()
	return k
}
