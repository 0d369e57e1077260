package clearance

// Balls calls f for the largest balls at places all round a region of one ring, no larger than
// limit mm: as searched in the tree, by a look at every edge, and, where the ring is convex
// and turns at every corner, by the lines of its sides.
func (r *Region) Balls(limit float64, f func(searched, looked, lined float64)) {
	turns := newSides(nil, r).turns
	strictly := r.convex(turns)
	for _, turn := range turns {
		strictly = strictly && turn > straight
	}
	var last nearby
	for i := range r.edges {
		for k := range 5 {
			s := r.onEdge(i, (float64(k)+0.5)/5, 0)
			all := shrinking{site: s, edges: r.edges}
			all.resize(limit)
			all.meetAll()
			lined := all.ball
			if strictly {
				lined = convexRegion{r}.largest(nil, s, limit)
			}
			f(r.largest(nil, s, limit, 0, -1, &last).radius, all.ball.radius, lined.radius)
		}
	}
}
