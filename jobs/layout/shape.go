package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
)

const (
	shapeChord = 0.01 // how finely shapes are flattened for nesting, in mm
	halfLine   = 0.05 // how far an open line reaches to each side, in mm
)

// shape returns the area that a copy takes of the stock, less its openings, in
// coordinates that begin at the lower left corner of its bounds, turned over where
// it is cut mirrored. The error is that of the planar kernel.
func (p Piece) shape(b *budget.Budget, mirrored bool) (planar.Polygons, error) {
	m := geometry.Translate(-p.Bounds.Min.X, -p.Bounds.Min.Y)
	if mirrored {
		m = m.Then(geometry.Affine{A: -1, D: 1, E: p.Bounds.Width()})
	}
	filled := planar.Region{Rule: planar.NonZero}
	for _, path := range p.outline() {
		points := path.Transform(m).FlattenIn(b, shapeChord)
		if path.Closed {
			filled.Rings = append(filled.Rings, anticlockwise(points))
			continue
		}
		for i := range points[:len(points)-1] {
			filled.Rings = append(filled.Rings, thick(points[i], points[i+1]))
		}
	}
	if len(p.Openings) == 0 {
		return planar.Union(b, filled)
	}
	open := planar.Region{Rule: planar.NonZero}
	for _, path := range p.Openings {
		open.Rings = append(open.Rings, anticlockwise(path.Transform(m).FlattenIn(b, shapeChord)))
	}
	return planar.Difference(b, filled, open)
}

// anticlockwise returns a ring that runs so, turned round if need be: rings that run
// against each other would cancel out.
func anticlockwise(ring []geometry.Point) []geometry.Point {
	if planar.RingArea(ring) >= 0 {
		return ring
	}
	round := make([]geometry.Point, len(ring))
	for i, p := range ring {
		round[len(ring)-1-i] = p
	}
	return round
}

// thick returns a rectangle round the line from p to q.
func thick(p, q geometry.Point) []geometry.Point {
	along := q.Sub(p)
	if n := along.Norm(); n > 0 {
		along = along.Mul(halfLine / n)
	} else {
		along = geometry.Pt(halfLine, 0)
	}
	across := geometry.Pt(-along.Y, along.X)
	from, to := p.Sub(along), q.Add(along)
	return []geometry.Point{from.Sub(across), to.Sub(across), to.Add(across), from.Add(across)}
}
