package clearance

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Region is a region ready to be measured. Make it with NewRegion; it does
// not change afterwards and may be read by several goroutines.
type Region struct {
	edges  []edge
	first  []int // first edge of each ring, and the number of edges at the end
	bounds geometry.Box
	thick  float64 // of the boxes of leaves: sixteen times the mean width, so that few others lie in one
	tree   tree
}

// edge is one side of a ring; the inside lies to its left.
type edge struct {
	a, b  geometry.Point
	dir   geometry.Point // unit vector from a to b
	size  float64        // length
	along float64        // length of the ring before it
	ring  int32
	side  int32 // of the rings, as they came
}

func newEdge(a, b geometry.Point) edge {
	size := a.Dist(b)
	return edge{a: a, b: b, dir: b.Sub(a).Mul(1 / size), size: size}
}

// NewRegion returns the region inside the first ring and outside the others.
// Rings are closed without repeating their first point; repeated points are
// passed over. Rings may run either way: they are turned as needed.
func NewRegion(b *budget.Budget, rings ...[]geometry.Point) *Region {
	r := newRegion(b, rings)
	if r.round() {
		b.Spend(len(r.edges))
		r.tree = tree{r.edges, []node{plain(r.edges)}}
	} else {
		r.tree = newTree(b, r.edges, r.thick)
	}
	return r
}

// newRegion returns a region without a tree.
func newRegion(b *budget.Budget, rings [][]geometry.Point) *Region {
	n := 0
	for _, ring := range rings {
		n += len(ring)
	}
	b.Spend(n)
	r := &Region{bounds: geometry.EmptyBox(), edges: make([]edge, 0, n)}
	area, length, before := 0.0, 0.0, 0
	for i, ring := range rings {
		r.first = append(r.first, len(r.edges))
		own := signedArea(ring)
		length += r.addRing(i, ring, before, (own < 0) != (i > 0))
		before += len(ring)
		if area += math.Abs(own); i > 0 {
			area -= 2 * math.Abs(own)
		}
	}
	r.first = append(r.first, len(r.edges))
	if length > 0 {
		r.thick = 16 * 2 * area / length
	}
	return r
}

// round reports whether the region is one ring of few edges that turns to its left at every
// corner: its edges are looked at one by one in less time than it takes to box them.
func (r *Region) round() bool {
	if r.Rings() != 1 || len(r.edges) < 3 || len(r.edges) > mostConvex {
		return false
	}
	for i := range r.edges {
		if r.edges[r.prev(i)].dir.Cross(r.edges[i].dir) <= straight {
			return false
		}
	}
	return true
}

// addRing adds the edges of a ring, which comes after so many corners of others, and
// returns its length.
func (r *Region) addRing(number int, ring []geometry.Point, before int, turn bool) (along float64) {
	n := len(ring)
	for i, a := range ring {
		side, next := i, i+1
		if turn {
			a, side = ring[n-1-i], n-2-i
			next = side
		}
		switch next { // a remainder takes longer
		case n:
			next = 0
		case -1:
			side, next = n-1, n-1
		}
		b := ring[next]
		if a == b {
			continue
		}
		e := newEdge(a, b)
		e.along, e.ring, e.side = along, int32(number), int32(before+side)
		along += e.size
		r.edges = append(r.edges, e)
		r.bounds = r.bounds.Include(a)
	}
	return along
}

// signedArea returns the area of a ring, positive when it runs anticlockwise,
// by the shoelace formula about its first point.
func signedArea(ring []geometry.Point) float64 {
	sum := 0.0
	for i := 2; i < len(ring); i++ {
		sum += ring[i-1].Sub(ring[0]).Cross(ring[i].Sub(ring[0]))
	}
	return sum / 2
}

// Rings returns the number of rings, the outer one included.
func (r *Region) Rings() int { return len(r.first) - 1 }

// Bounds returns the box round the region.
func (r *Region) Bounds() geometry.Box { return r.bounds }

// widest returns a radius that no circle inside reaches.
func (r *Region) widest() float64 { return max(r.bounds.Width(), r.bounds.Height()) }

// Length returns the length of all rings in mm.
func (r *Region) Length() float64 {
	sum := 0.0
	for i := range r.edges {
		sum += r.edges[i].size
	}
	return sum
}

// next and prev return the neighbours of edge i in its ring.
func (r *Region) next(i int) int {
	ring := r.edges[i].ring
	if i+1 == r.first[ring+1] {
		return r.first[ring]
	}
	return i + 1
}

func (r *Region) prev(i int) int {
	ring := r.edges[i].ring
	if i == r.first[ring] {
		return r.first[ring+1] - 1
	}
	return i - 1
}

// closest returns the point of the edge nearest to p.
func (e *edge) closest(p geometry.Point) geometry.Point {
	t := (p.X-e.a.X)*e.dir.X + (p.Y-e.a.Y)*e.dir.Y
	switch {
	case t <= 0:
		return e.a
	case t >= e.size:
		return e.b
	}
	return geometry.Point{X: e.a.X + t*e.dir.X, Y: e.a.Y + t*e.dir.Y}
}
