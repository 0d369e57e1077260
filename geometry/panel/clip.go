package panel

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// sideOf is one side of a box: the line on which it lies.
type sideOf struct {
	axis geometry.Axis
	at   float64
	in   float64 // 1 where the inside has the larger coordinate, else −1
}

func sidesOf(box geometry.Box) [4]sideOf {
	return [4]sideOf{
		{geometry.Upright, box.Min.X, 1}, {geometry.Upright, box.Max.X, -1},
		{geometry.Level, box.Min.Y, 1}, {geometry.Level, box.Max.Y, -1},
	}
}

// onto puts a point that lies on the side to within rounding exactly there.
func (s sideOf) onto(p geometry.Point) geometry.Point {
	if s.axis == geometry.Upright {
		return geometry.Pt(s.at, p.Y)
	}
	return geometry.Pt(p.X, s.at)
}

// within reports whether a point lies off the side, on the inside of it.
func (s sideOf) within(p geometry.Point) bool { return (s.axis.Of(p)-s.at)*s.in > onLine }

// snapped puts a point that lies on sides to within rounding exactly there.
func snapped(p geometry.Point, sides [4]sideOf) geometry.Point {
	for _, s := range sides {
		if math.Abs(s.axis.Of(p)-s.at) <= onLine {
			p = s.onto(p)
		}
	}
	return p
}

// onLine is how near to a side, in mm, a line counts as lying on it.
const onLine = 1e-7

// Clip returns what of a path lies inside a box, as exact curves: the path itself where
// all of it does, else the open runs between its sides. What runs along a side does not
// lie inside. Ends on a side have its coordinate exactly.
func Clip(b *budget.Budget, p geometry.Path, box geometry.Box) []geometry.Path {
	bounds := p.BoundsIn(b)
	switch {
	case p.Empty() || !bounds.Overlaps(box):
		return nil
	case bounds.Min.X > box.Min.X && bounds.Min.Y > box.Min.Y && bounds.Max.X < box.Max.X && bounds.Max.Y < box.Max.Y:
		return []geometry.Path{p}
	}
	c := clipping{b: b, sides: sidesOf(box), all: true}
	c.first = snapped(p.Start, c.sides)
	from := c.first
	for _, s := range p.Segments {
		s.End = snapped(s.End, c.sides)
		c.add(s, from)
		from = s.End
	}
	if c.all {
		return []geometry.Path{p}
	}
	return c.runs(p.Closed)
}

// clipping is a path being clipped.
type clipping struct {
	b     *budget.Budget
	sides [4]sideOf
	first geometry.Point // of the path
	found []geometry.Path
	open  bool // the last found goes on
	all   bool // nothing lies outside so far
}

// add takes what of a segment lies inside.
func (c *clipping) add(s geometry.Segment, from geometry.Point) {
	for _, part := range split(c.b, s, from, c.sides) {
		in := inside(part, from, c.sides)
		switch {
		case in && !c.open:
			c.found = append(c.found, geometry.Path{Start: from, Segments: []geometry.Segment{part}})
		case in:
			last := &c.found[len(c.found)-1]
			last.Segments = append(last.Segments, part)
		}
		c.all, c.open, from = c.all && in, in, part.End
	}
}

// runs returns what was found, of a closed path with its last run before its first where
// that goes on.
func (c *clipping) runs(closed bool) []geometry.Path {
	n := len(c.found)
	if !closed || n < 2 || !c.open || c.found[0].Start != c.first {
		return c.found
	}
	last := c.found[n-1]
	last.Segments = append(last.Segments, c.found[0].Segments...)
	return append([]geometry.Path{last}, c.found[1:n-1]...)
}

// split parts a segment where it meets the sides.
func split(b *budget.Budget, s geometry.Segment, from geometry.Point, sides [4]sideOf) []geometry.Segment {
	b.Spend(8)
	parts := []geometry.Segment{s}
	for _, side := range sides {
		var finer []geometry.Segment
		start := from
		for _, part := range parts {
			more := part.Split(start, part.Meets(start, side.axis, side.at))
			for i := range more[:len(more)-1] {
				more[i].End = side.onto(more[i].End)
			}
			finer, start = append(finer, more...), part.End
		}
		parts = finer
	}
	return parts
}

// inside reports whether a segment that meets no side lies within them: by its middle,
// which lies on none where the segment does not run along it.
func inside(s geometry.Segment, from geometry.Point, sides [4]sideOf) bool {
	mid := s.At(from, 0.5)
	for _, side := range sides {
		if !side.within(mid) {
			return false
		}
	}
	return true
}
