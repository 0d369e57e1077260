package dxf

import (
	"math"

	"knifedesk/geometry"
)

// point is a position or vector in space.
type point struct{ x, y, z float64 }

func (p point) add(q point) point   { return point{p.x + q.x, p.y + q.y, p.z + q.z} }
func (p point) mul(k float64) point { return point{p.x * k, p.y * k, p.z * k} }
func (p point) cross(q point) point {
	return point{p.y*q.z - p.z*q.y, p.z*q.x - p.x*q.z, p.x*q.y - p.y*q.x}
}

func (p point) unit() point {
	n := math.Sqrt(p.x*p.x + p.y*p.y + p.z*p.z)
	if n == 0 {
		return point{}
	}
	return p.mul(1 / n)
}

// up is the extrusion of everything that is drawn flat.
func up() point { return point{0, 0, 1} }

// placement is an affine map of space: the images of the three axes, and of
// the origin.
type placement struct{ u, v, w, o point }

// unplaced is the placement that changes nothing.
func unplaced() placement {
	return placement{u: point{1, 0, 0}, v: point{0, 1, 0}, w: point{0, 0, 1}}
}

// bounded reports whether m carries no point near the origin beyond maxNumber.
func (m *placement) bounded() bool {
	for _, p := range [4]point{m.u, m.v, m.w, m.o} {
		if judge(p.x) == bad || judge(p.y) == bad || judge(p.z) == bad {
			return false
		}
	}
	return true
}

// vector returns the image of a vector: the shift is left out.
func (m *placement) vector(p point) point {
	return m.u.mul(p.x).add(m.v.mul(p.y)).add(m.w.mul(p.z))
}

func (m *placement) apply(p point) point { return m.vector(p).add(m.o) }

// flat returns the image of p as seen from above.
func (m *placement) flat(p point) geometry.Point {
	return geometry.Point{
		X: m.u.x*p.x + m.v.x*p.y + m.w.x*p.z + m.o.x,
		Y: m.u.y*p.x + m.v.y*p.y + m.w.y*p.z + m.o.y,
	}
}

// flatVector returns the image of the vector p as seen from above.
func (m *placement) flatVector(p point) geometry.Point {
	return geometry.Point{
		X: m.u.x*p.x + m.v.x*p.y + m.w.x*p.z,
		Y: m.u.y*p.x + m.v.y*p.y + m.w.y*p.z,
	}
}

// after returns the map that applies n first and m after it.
func (m *placement) after(n *placement) placement {
	return placement{u: m.vector(n.u), v: m.vector(n.v), w: m.vector(n.w), o: m.apply(n.o)}
}

// plane returns the map of the plane z = height, seen from above.
func (m *placement) plane(height float64) geometry.Affine {
	o := m.flat(point{0, 0, height})
	return geometry.Affine{A: m.u.x, B: m.u.y, C: m.v.x, D: m.v.y, E: o.X, F: o.Y}
}

// turned returns m for coordinates that are given in the object system of the
// extrusion n ("Object coordinate systems", arbitrary axis algorithm: where n
// is within 1/64 of the z axis, x is across y and n, elsewhere across z and n).
func (m *placement) turned(n point) placement {
	n = n.unit()
	if n == up() || n == (point{}) {
		return *m
	}
	axis := up()
	if math.Abs(n.x) < 1.0/64 && math.Abs(n.y) < 1.0/64 {
		axis = point{0, 1, 0}
	}
	x := axis.cross(n).unit()
	return m.after(&placement{u: x, v: n.cross(x).unit(), w: n})
}
