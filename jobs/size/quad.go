package size

import (
	"math"

	"knifedesk/geometry"
)

// quad is a rectangle as it was drawn: four corners and not a box, so that a
// turned one keeps its sides and a skewed one shows it.
//
//	corners[3] ─────── corners[2]
//	    │      v              │        u along the side nearest to the x axis
//	corners[0] ──u──── corners[1]
type quad struct {
	corners [4]geometry.Point // anticlockwise
	u, v    float64           // mean lengths of the opposite sides
	turn    float64           // of u from the x axis, radians in (−π/4, π/4]
	skew    float64           // largest difference of opposite sides, or of the diagonals
	parts   []Part            // the paths that draw it
	loose   bool              // drawn as loose lines
	missing bool              // one side is not drawn
}

// The slack within which four lines are still taken for a rectangle that
// somebody spoiled; exactness is judged later, in mm.
const (
	quadCos   = 0.09 // corners up to 5° off
	quadSides = 0.12 // opposite sides up to 12 % apart
)

// newQuad measures the rectangle through four corners given in order, and
// reports whether they are near enough to one.
func newQuad(c [4]geometry.Point) (quad, bool) {
	if c[1].Sub(c[0]).Cross(c[3].Sub(c[0])) < 0 {
		c[1], c[3] = c[3], c[1]
	}
	for i := range c {
		a, b := c[(i+1)%4].Sub(c[i]), c[(i+3)%4].Sub(c[i])
		if !(a.Norm() > 0 && b.Norm() > 0) || a.Cross(b) <= 0 || math.Abs(a.Unit().Dot(b.Unit())) > quadCos {
			return quad{}, false
		}
	}
	c = startAlongX(c)
	side := func(i int) float64 { return c[i].Dist(c[(i+1)%4]) }
	q := quad{corners: c, u: (side(0) + side(2)) / 2, v: (side(1) + side(3)) / 2}
	du, dv := math.Abs(side(0)-side(2)), math.Abs(side(1)-side(3))
	if du > quadSides*q.u || dv > quadSides*q.v {
		return quad{}, false
	}
	q.skew = math.Max(math.Max(du, dv), math.Abs(c[0].Dist(c[2])-c[1].Dist(c[3])))
	along := c[1].Sub(c[0]).Add(c[2].Sub(c[3]))
	q.turn = math.Atan2(along.Y, along.X)
	return q, true
}

// startAlongX turns the order so that the first side runs nearest to +x.
func startAlongX(c [4]geometry.Point) [4]geometry.Point {
	best, at := math.Inf(-1), 0
	for i := range c {
		if x := c[(i+1)%4].Sub(c[i]).Unit().X; x > best {
			best, at = x, i
		}
	}
	return [4]geometry.Point{c[at], c[(at+1)%4], c[(at+2)%4], c[(at+3)%4]}
}

// sides returns the lengths along u and v.
func (q *quad) sides() [2]float64 { return [2]float64{q.u, q.v} }

func (q *quad) area() float64 { return q.u * q.v }

func (q *quad) bounds() geometry.Box { return geometry.BoxAround(q.corners[:]...) }

// own maps drawing units to the frame's own axes: u along x, v along y, the
// first corner at the origin.
func (q *quad) own() geometry.Affine {
	return geometry.Translate(-q.corners[0].X, -q.corners[0].Y).Then(geometry.Rotate(-q.turn))
}

// holds reports whether p lies in the rectangle grown by the given length.
func (q *quad) holds(p geometry.Point, grown float64) bool {
	for i, c := range q.corners {
		along := q.corners[(i+1)%4].Sub(c).Unit()
		if along.Cross(p.Sub(c)) < -grown {
			return false
		}
	}
	return true
}

// touches reports whether the middle or a corner of b lies in the rectangle
// grown by the given length.
func (q *quad) touches(b geometry.Box, grown float64) bool {
	if q.holds(b.Centre(), grown) {
		return true
	}
	for _, c := range b.Corners() {
		if q.holds(c, grown) {
			return true
		}
	}
	return false
}

// onSide returns how far p is from the nearest side.
func (q *quad) onSide(p geometry.Point) float64 {
	least := math.Inf(1)
	for i, c := range q.corners {
		least = math.Min(least, distToSegment(p, c, q.corners[(i+1)%4]))
	}
	return least
}

func distToSegment(p, a, b geometry.Point) float64 {
	d := b.Sub(a)
	t := p.Sub(a).Dot(d) / d.Dot(d)
	return p.Dist(a.Lerp(b, math.Max(0, math.Min(1, t))))
}

// coincides reports whether both rectangles have the same corners within tol.
func (q *quad) coincides(r *quad, tol float64) bool {
	for _, c := range q.corners {
		near := false
		for _, d := range r.corners {
			near = near || c.Dist(d) <= tol
		}
		if !near {
			return false
		}
	}
	return true
}
