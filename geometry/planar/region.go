package planar

import "knifedesk/geometry"

// Rule says which points count as inside rings.
type Rule uint8

// The rules, as SVG 2 (section 13.4.2) has them.
const (
	NonZero Rule = iota // the rings wind round it, in sum, other than 0 times
	EvenOdd             // the rings wind round it an odd number of times
)

// holds reports whether a point with that winding number is inside.
func (r Rule) holds(winding int32) bool {
	if r == EvenOdd {
		return winding&1 != 0
	}
	return winding != 0
}

// Region is the part of the plane inside rings. Each ring is closed by its
// last corner being joined to the first; rings may cross, overlap and touch.
type Region struct {
	Rings [][]geometry.Point // mm
	Rule  Rule
}

// Polygon is a connected area with its holes. Rings are simple and meet at
// most in single points; Outer runs anticlockwise, Holes run clockwise.
type Polygon struct {
	Outer []geometry.Point
	Holes [][]geometry.Point
}

// Polygons is an area in disjoint parts.
type Polygons []Polygon

// Region returns the same area as rings.
func (ps Polygons) Region() Region {
	var r Region
	for _, p := range ps {
		r.Rings = append(append(r.Rings, p.Outer), p.Holes...)
	}
	return r
}

// Area returns the area in mm².
func (ps Polygons) Area() float64 {
	sum := 0.0
	for _, p := range ps {
		sum += RingArea(p.Outer)
		for _, h := range p.Holes {
			sum += RingArea(h)
		}
	}
	return sum
}

// Perimeter returns the length of all rings in mm.
func (ps Polygons) Perimeter() float64 {
	sum := 0.0
	for _, ring := range ps.Region().Rings {
		for i, p := range ring {
			sum += p.Dist(ring[(i+1)%len(ring)])
		}
	}
	return sum
}

// RingArea returns the area inside the ring in mm², negative where it runs
// clockwise.
func RingArea(ring []geometry.Point) float64 {
	sum := 0.0
	for i := 2; i < len(ring); i++ {
		sum += ring[i-1].Sub(ring[0]).Cross(ring[i].Sub(ring[0]))
	}
	return sum / 2
}
