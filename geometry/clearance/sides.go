package clearance

import (
	"math"

	"knifedesk/geometry/budget"
)

// sides knows how the boundary runs between two of its points.
type sides struct {
	r     *Region
	total []float64 // length of each ring
	turns []float64 // turn at the start of each edge, radians
}

func newSides(b *budget.Budget, r *Region) sides {
	s := sides{r: r, turns: make([]float64, len(r.edges)), total: make([]float64, r.Rings())}
	for i := range r.edges {
		b.Step()
		s.total[r.edges[i].ring] += r.edges[i].size
		s.turns[i] = r.turn(i)
	}
	return s
}

// sameCorner reports whether the two feet of a ball lie on the two sides of
// one sharp corner: nearly all of the turn between them happens at it, and it
// lies about half-way. Along such sides the width shrinks to nothing, which
// is the corner's sharpness and not a width.
func (s sides) sameCorner(from site, to Foot) bool {
	r := s.r
	ring := r.edges[from.edge].ring
	if r.edges[to.edge].ring != ring {
		return false
	}
	ahead := r.edges[to.edge].along + to.Point.Dist(r.edges[to.edge].a) - from.along
	if ahead < 0 {
		ahead += s.total[ring]
	}
	if ahead <= s.total[ring]/2 {
		return s.corner(from.edge, to.edge, from.along, ahead)
	}
	back := s.total[ring] - ahead
	return s.corner(to.edge, from.edge, from.along-back, back)
}

// corner looks for a corner between the edges i and j, walking forwards from
// the length along for the given way.
func (s sides) corner(i, j int, along, way float64) bool {
	const (
		maxEdges = 64
		sharp    = math.Pi - sharpDeg*math.Pi/180
		rest     = math.Pi / 3
	)
	total := s.total[s.r.edges[i].ring]
	turned, place := 0.0, -1.0
	for k := 0; i != j; k++ {
		if k == maxEdges {
			return false
		}
		i = s.r.next(i)
		if t := s.turns[i]; t >= sharp {
			place = math.Mod(s.r.edges[i].along-along+2*total, total)
		} else if turned += math.Abs(t); turned > rest {
			return false
		}
	}
	return place >= 0 && place >= 0.25*way && place <= 0.75*way
}
