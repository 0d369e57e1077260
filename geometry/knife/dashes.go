package knife

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Dashes cuts a line into dashes of dash mm with tie mm left whole between
// them, a perforation that begins with a cut, and hands out each with the number
// of the line's segment in which it begins. Without a dash it is one cut.
func Dashes(b *budget.Budget, line geometry.Path, dash, tie float64, each func(segment int, cut geometry.Path)) {
	if dash <= 0 || line.Empty() {
		each(0, line)
		return
	}
	at := cursor{b: b, segs: line.Segments, from: line.Start, rest: line.Segments[0]}
	for at.i < len(at.segs) {
		cut, first := geometry.Path{Start: at.from}, at.i
		at.advance(dash, func(s geometry.Segment) { cut.Segments = append(cut.Segments, s) })
		if !cut.Empty() {
			each(first, cut)
		}
		at.advance(tie, func(geometry.Segment) {})
	}
}

// cursor is a place on a line, and what is left of the segment it lies in.
type cursor struct {
	b    *budget.Budget
	segs []geometry.Segment
	i    int
	from geometry.Point
	rest geometry.Segment
}

// nothing is a length in mm that is left out, as rounding makes it.
const nothing = 1e-9

// advance moves on by length mm, at most to the end, and hands out the segments and
// parts of them passed over.
func (c *cursor) advance(length float64, over func(geometry.Segment)) {
	for c.i < len(c.segs) && length > nothing {
		c.b.Spend(lengthSteps)
		whole := c.rest.Length(c.from)
		if whole > length+nothing {
			first, rest := Split(c.from, c.rest, length/whole)
			over(first)
			c.from, c.rest = first.End, rest
			return
		}
		if whole > 0 {
			over(c.rest)
		}
		length -= whole
		c.from = c.rest.End
		if c.i++; c.i < len(c.segs) {
			c.rest = c.segs[c.i]
		}
	}
}
