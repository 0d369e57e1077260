package weeding

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
)

// cutLines are strokes flattened to straight lines. The source of a line is
// its own index, so that an edge of the map knows its strokes and which way
// they run.
type cutLines struct {
	lines  []planar.Line
	stroke []int32 // by line
	room   []geometry.Point
}

// flatten returns the lines of the strokes that part the film; pen, score and
// perforated lines bound nothing.
func flatten(b *budget.Budget, strokes []artwork.Stroke, chord float64) cutLines {
	var c cutLines
	for i := range strokes {
		if strokes[i].Operation.Cuts() {
			c.add(b, strokes[i].Path, int32(i), chord)
		}
	}
	return c
}

func (c *cutLines) add(b *budget.Budget, p geometry.Path, stroke int32, chord float64) {
	b.Spend(1 + len(p.Segments))
	pts, from := append(c.room[:0], p.Start), p.Start
	for _, s := range p.Segments {
		pts = s.AppendFlat(pts, from, chord)
		from = s.End
	}
	c.room = pts
	b.Spend(len(pts))
	if more := len(pts) - 1; len(c.lines)+more > cap(c.lines) { // twice the room, as lines are many and large
		c.lines = slices.Grow(c.lines, len(c.lines)+more)
		c.stroke = slices.Grow(c.stroke, len(c.stroke)+more)
	}
	for k := 1; k < len(pts); k++ {
		if pts[k] == pts[k-1] {
			continue
		}
		c.lines = append(c.lines, planar.Line{A: pts[k-1], B: pts[k], Source: int32(len(c.lines))})
		c.stroke = append(c.stroke, stroke)
	}
}

// bounds returns the box of the lines.
func (c *cutLines) bounds() geometry.Box {
	b := geometry.EmptyBox()
	for _, l := range c.lines {
		b = b.Include(l.A).Include(l.B)
	}
	return b
}

// invisible reports whether a stroke is one that a plan adds to help the
// weeding. It parts the film and changes nothing about what is kept.
func invisible(s *artwork.Stroke) bool {
	switch s.Added {
	case artwork.Border, artwork.Relief, artwork.Seam:
		return true
	}
	return false
}
