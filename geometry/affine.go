package geometry

import (
	"encoding/json"
	"math"
)

// Affine is the map
//
//	x' = A·x + C·y + E
//	y' = B·x + D·y + F
//
// with the letters in the order of the SVG matrix(a b c d e f).
type Affine struct{ A, B, C, D, E, F float64 }

// Identity is the map that changes nothing.
var Identity = Affine{A: 1, D: 1}

// Translate returns the shift by (dx, dy).
func Translate(dx, dy float64) Affine { return Affine{A: 1, D: 1, E: dx, F: dy} }

// Scale returns the scaling about the origin by sx along x and sy along y.
func Scale(sx, sy float64) Affine { return Affine{A: sx, D: sy} }

// Rotate returns the anticlockwise turn about the origin by a radians.
func Rotate(a float64) Affine {
	s, c := math.Sincos(a)
	return Affine{A: c, B: s, C: -s, D: c}
}

// Then returns the map that applies m first and n after it.
func (m Affine) Then(n Affine) Affine {
	return Affine{
		A: n.A*m.A + n.C*m.B, B: n.B*m.A + n.D*m.B,
		C: n.A*m.C + n.C*m.D, D: n.B*m.C + n.D*m.D,
		E: n.A*m.E + n.C*m.F + n.E, F: n.B*m.E + n.D*m.F + n.F,
	}
}

// Apply returns the image of the point p.
func (m Affine) Apply(p Point) Point {
	return Point{m.A*p.X + m.C*p.Y + m.E, m.B*p.X + m.D*p.Y + m.F}
}

// ApplyVector returns the image of the vector v: the shift is left out.
func (m Affine) ApplyVector(v Point) Point {
	return Point{m.A*v.X + m.C*v.Y, m.B*v.X + m.D*v.Y}
}

// Det returns the factor by which m multiplies signed areas; negative mirrors.
func (m Affine) Det() float64 { return m.A*m.D - m.B*m.C }

// Inverse returns the inverse map and whether there is one.
func (m Affine) Inverse() (Affine, bool) {
	d := m.Det()
	if d == 0 || math.IsNaN(d) || math.IsInf(d, 0) {
		return Affine{}, false
	}
	return Affine{
		A: m.D / d, B: -m.B / d, C: -m.C / d, D: m.A / d,
		E: (m.C*m.F - m.D*m.E) / d, F: (m.B*m.E - m.A*m.F) / d,
	}, true
}

// Similar reports whether m keeps shapes (turns, mirrors and scales equally in
// all directions), so that circular arcs stay circular arcs. The bound is
// relative to the size of the matrix: a few rounding errors of float64.
func (m Affine) Similar() bool {
	u, v := Point{m.A, m.B}, Point{m.C, m.D}
	size := u.Dot(u) + v.Dot(v)
	const slack = 1e-14
	return math.Abs(u.Dot(u)-v.Dot(v)) <= slack*size && math.Abs(u.Dot(v)) <= slack*size
}

// MeanScale returns the square root of |Det|: the factor on lengths of a
// similar map, the geometric mean of the two axes of any other.
func (m Affine) MeanScale() float64 { return math.Sqrt(math.Abs(m.Det())) }

// MarshalJSON writes the six numbers in the order of SVG's matrix().
func (m Affine) MarshalJSON() ([]byte, error) {
	return json.Marshal([6]float64{m.A, m.B, m.C, m.D, m.E, m.F})
}

// UnmarshalJSON reads the six numbers in the order of SVG's matrix().
func (m *Affine) UnmarshalJSON(data []byte) error {
	var v [6]float64
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	*m = Affine{v[0], v[1], v[2], v[3], v[4], v[5]}
	return nil
}
