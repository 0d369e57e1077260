package geometry

import "math"

// Box is an axis-parallel rectangle. The zero Box is the single point at the
// origin; use EmptyBox to start collecting.
type Box struct {
	Min Point `json:"min"`
	Max Point `json:"max"`
}

// EmptyBox returns a box that holds nothing and is the identity of Union.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Point{inf, inf}, Point{-inf, -inf}}
}

// BoxAround returns the smallest box that holds all the given points.
func BoxAround(pts ...Point) Box {
	b := EmptyBox()
	for _, p := range pts {
		b = b.Include(p)
	}
	return b
}

// Empty reports whether b holds no point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Width returns the extent along x, 0 for an empty box.
func (b Box) Width() float64 { return max(0, b.Max.X-b.Min.X) }

// Height returns the extent along y, 0 for an empty box.
func (b Box) Height() float64 { return max(0, b.Max.Y-b.Min.Y) }

// Centre returns the middle of b.
func (b Box) Centre() Point { return b.Min.Lerp(b.Max, 0.5) }

// Include returns b grown to hold p.
func (b Box) Include(p Point) Box {
	return Box{
		Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Union returns the smallest box that holds b and c.
func (b Box) Union(c Box) Box {
	if c.Empty() {
		return b
	}
	return b.Include(c.Min).Include(c.Max)
}

// Grow returns b with each side moved out by d (in for negative d).
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Contains reports whether p lies in b or on its border.
func (b Box) Contains(p Point) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// ContainsBox reports whether c lies wholly in b. An empty c lies in every box.
func (b Box) ContainsBox(c Box) bool {
	return c.Empty() || (b.Contains(c.Min) && b.Contains(c.Max))
}

// Overlaps reports whether b and c share a point.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// Corners returns the four corners anticlockwise from Min.
func (b Box) Corners() [4]Point {
	return [4]Point{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}

// Path returns the outline of b as a closed path, anticlockwise from Min.
func (b Box) Path() Path {
	c := b.Corners()
	return Polygon(c[:]...)
}
