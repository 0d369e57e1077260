package weeding

import (
	"math"
	"slices"
)

// stray is the share of the even distance between two bridges by which one may
// lie off its even place, to be shorter. By a quarter no gap between three or
// more is wider than half the way round, so that they never lie all on one side
// of the island, where they would be a hinge.
const stray = 1.0 / 4

// spread gives a ring further bridges, so that it hangs on n, at even places
// round it as far as there is room.
func (h *hanging) spread(ring, n int) {
	even := h.length[ring] / float64(n)
	for missing := n - len(h.edges[ring]); missing > 0; missing-- {
		at, ok := h.place(ring, h.gapMiddle(ring, missing), stray*even)
		if !ok {
			return
		}
		h.take(at)
		h.secure(h.all[at])
	}
}

// gapMiddle returns where round a ring the next of the missing bridges would
// best lie: they part the gaps between those that are there so that the widest
// is as narrow as can be, and the next one is the first in the widest gap.
func (h *hanging) gapMiddle(ring, missing int) float64 {
	var at []float64
	for _, i := range h.edges[ring] {
		at = append(at, h.all[i].on(ring))
	}
	slices.Sort(at)
	gap := func(k int) float64 {
		next := at[0] + h.length[ring]
		if k+1 < len(at) {
			next = at[k+1]
		}
		return next - at[k]
	}
	parts := make([]int, len(at))
	widest := 0
	for range missing {
		widest = 0
		for k := range at {
			h.budget.Step()
			if gap(k)/float64(parts[k]+1) > gap(widest)/float64(parts[widest]+1) {
				widest = k
			}
		}
		parts[widest]++
	}
	return at[widest] + gap(widest)/float64(parts[widest]+1)
}

// place returns the cheapest span at most far mm from a place round a ring, or
// where there is none the nearest to it.
func (h *hanging) place(ring int, at, far float64) (int, bool) {
	best, least := -1, math.Inf(1)
	for _, i := range h.at[ring] {
		h.budget.Step()
		s := h.all[i]
		off := math.Abs(math.Remainder(s.on(ring)-at, h.length[ring]))
		c := s.cost + off
		if off > far {
			c += 1e6 * off // after all that are near
		}
		if c < least && h.joined(s) && h.apart(s, false) {
			best, least = i, c
		}
	}
	return best, best >= 0
}

// on returns how far round one of its rings the span ends, in mm.
func (s *span) on(ring int) float64 {
	if s.rings[0] == ring {
		return s.along[0]
	}
	return s.along[1]
}
