package evidence

import (
	"math"
	"slices"

	"knifedesk/geometry"
)

// Quad is a rectangle as it was drawn: four corners and not a box, so that a
// turned one keeps its sides and a skewed one shows it.
//
//	Corners[3] ─────── Corners[2]
//	    │      V              │        U along the side nearest to the x axis
//	Corners[0] ──U──── Corners[1]
type Quad struct {
	Corners [4]geometry.Point // anticlockwise
	U, V    float64           // mean lengths of the opposite sides
	Turn    float64           // of u from the x axis, radians in (−π/4, π/4]
	Skew    float64           // largest difference of opposite sides, or of the diagonals
	Parts   []Part            // the paths that draw it
	Loose   bool              // drawn as loose lines
	Missing bool              // one side is not drawn
	Rounded bool              // its corners are round
}

// The slack within which four lines are still taken for a rectangle that
// somebody spoiled; exactness is judged later, in mm.
const (
	quadCos   = 0.09 // corners up to 5° off
	quadSides = 0.12 // opposite sides up to 12 % apart
)

// newQuad measures the rectangle through four corners given in order, and
// reports whether they are near enough to one.
func newQuad(c [4]geometry.Point) (Quad, bool) {
	if c[1].Sub(c[0]).Cross(c[3].Sub(c[0])) < 0 {
		c[1], c[3] = c[3], c[1]
	}
	for i := range c {
		a, b := c[(i+1)%4].Sub(c[i]), c[(i+3)%4].Sub(c[i])
		if !(a.Norm() > 0 && b.Norm() > 0) || a.Cross(b) <= 0 || math.Abs(a.Unit().Dot(b.Unit())) > quadCos {
			return Quad{}, false
		}
	}
	c = startAlongX(c)
	side := func(i int) float64 { return c[i].Dist(c[(i+1)%4]) }
	q := Quad{Corners: c, U: (side(0) + side(2)) / 2, V: (side(1) + side(3)) / 2}
	du, dv := math.Abs(side(0)-side(2)), math.Abs(side(1)-side(3))
	if du > quadSides*q.U || dv > quadSides*q.V {
		return Quad{}, false
	}
	q.Skew = math.Max(math.Max(du, dv), math.Abs(c[0].Dist(c[2])-c[1].Dist(c[3])))
	along := c[1].Sub(c[0]).Add(c[2].Sub(c[3]))
	q.Turn = math.Atan2(along.Y, along.X)
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

// Sides returns the lengths along u and v.
func (q *Quad) Sides() [2]float64 { return [2]float64{q.U, q.V} }

func (q *Quad) area() float64 { return q.U * q.V }

// Bounds returns the box round the corners.
func (q *Quad) Bounds() geometry.Box { return geometry.BoxAround(q.Corners[:]...) }

// Own maps drawing units to the frame's own axes: u along x, v along y, the
// first corner at the origin.
func (q *Quad) Own() geometry.Affine {
	return geometry.Translate(-q.Corners[0].X, -q.Corners[0].Y).Then(geometry.Rotate(-q.Turn))
}

// Holds reports whether p lies in the rectangle grown by the given length.
func (q *Quad) Holds(p geometry.Point, grown float64) bool {
	for i, c := range q.Corners {
		along := q.Corners[(i+1)%4].Sub(c).Unit()
		if along.Cross(p.Sub(c)) < -grown {
			return false
		}
	}
	return true
}

// touches reports whether the middle or a corner of b lies in the rectangle
// grown by the given length.
func (q *Quad) touches(b geometry.Box, grown float64) bool {
	if q.Holds(b.Centre(), grown) {
		return true
	}
	for _, c := range b.Corners() {
		if q.Holds(c, grown) {
			return true
		}
	}
	return false
}

// onSide returns how far p is from the nearest side.
func (q *Quad) onSide(p geometry.Point) float64 {
	least := math.Inf(1)
	for i, c := range q.Corners {
		least = math.Min(least, p.DistToSegment(c, q.Corners[(i+1)%4]))
	}
	return least
}

// coincides reports whether both rectangles have the same corners within tol.
func (q *Quad) coincides(r *Quad, tol float64) bool {
	for _, c := range q.Corners {
		near := false
		for _, d := range r.Corners {
			near = near || c.Dist(d) <= tol
		}
		if !near {
			return false
		}
	}
	return true
}

// copies are rectangles of which is known that they are no frame. One that is
// drawn again is not looked at anew: thousands of them may lie on one another.
type copies []*Quad

// have reports whether q is one of them drawn again: so near that what lies along
// the one lies along the other.
func (c copies) have(q *Quad) bool {
	return slices.ContainsFunc(c, func(o *Quad) bool { return o.coincides(q, lyingTol/4*q.Longest()) })
}

// Whole reports whether the sides are whole numbers of drawing units, as
// programs write that round a page to points or pixels.
func (q *Quad) Whole() bool {
	return math.Abs(q.U-math.Round(q.U)) < 1e-6 && math.Abs(q.V-math.Round(q.V)) < 1e-6
}

// Longest returns the longer side.
func (q *Quad) Longest() float64 { return math.Max(q.U, q.V) }
