package weeding

// alike returns of every closed stroke the first of those that run alike: along
// the same edges of the map, equally often each way, or all of it the other way
// round.
//
// Strokes are compared by sums over their edges: of two different sets of edges
// the sums are equal with a chance of 2⁻¹²⁸.
func (c *crossing) alike() map[int32]int32 {
	type course struct{ edges, net uint64 }
	runs, drawn := make([]course, len(c.strokes)), make([]bool, len(c.strokes))
	for edge := range c.Edges {
		mark, sources := scatter(uint64(edge)), c.Sources(int32(edge))
		c.budget.Spend(1 + len(sources))
		for use, line := range sources {
			s := c.stroke[line]
			if st := &c.strokes[s]; !st.Path.Closed || invisible(st) {
				continue
			}
			r := &runs[s]
			r.edges += scatter(mark)
			if drawn[s] = true; c.Forward(int32(edge), use) {
				r.net += mark
			} else {
				r.net -= mark
			}
		}
	}
	first, seen := map[int32]int32{}, map[course]int32{}
	for s := range int32(len(c.strokes)) {
		r := runs[s]
		if !drawn[s] {
			continue
		}
		r.net = min(r.net, -r.net)
		if _, known := seen[r]; !known {
			seen[r] = s
		}
		first[s] = seen[r]
	}
	return first
}

// scatter spreads the numbers of edges over all 64 bits (the finaliser of
// SplitMix64; Steele, Lea and Flood, 2014).
func scatter(v uint64) uint64 {
	v += 0x9e3779b97f4a7c15
	v = (v ^ v>>30) * 0xbf58476d1ce4e5b9
	v = (v ^ v>>27) * 0x94d049bb133111eb
	return v ^ v>>31
}
