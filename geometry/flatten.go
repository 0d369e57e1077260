package geometry

import (
	"math"

	"knifedesk/geometry/budget"
)

// DefaultChord is the chord tolerance, in mm, with which jobs flatten curves
// unless they are told another.
const DefaultChord = 0.01

// maxPieces bounds the chords of one segment, so that a hostile curve cannot
// fill the memory.
const maxPieces = 1 << 14

// Flatten returns the vertices of a polyline that stays within chord of p.
// The vertices lie on p. A closed path repeats its first point at the end.
func (p Path) Flatten(chord float64) []Point { return p.FlattenIn(nil, chord) }

// FlattenIn is Flatten in steps of b, for paths that may be long.
func (p Path) FlattenIn(b *budget.Budget, chord float64) []Point {
	pts := make([]Point, 1, len(p.Segments)+1)
	pts[0] = p.Start
	from := p.Start
	for _, s := range p.Segments {
		before := len(pts)
		pts = s.AppendFlat(pts, from, chord)
		b.Spend(1 + (len(pts)-before)/8)
		from = s.End
	}
	return pts
}

// AppendFlat appends to pts the vertices of s after its start from.
func (s Segment) AppendFlat(pts []Point, from Point, chord float64) []Point {
	switch s.Kind {
	case Arc:
		return appendFlatArc(pts, from, s, chord)
	case Cubic:
		return appendFlatCubic(pts, from, s, chord)
	}
	return append(pts, s.End)
}

// appendFlatArc splits by the sagitta: a chord over the angle φ strays by
// r(1−cos(φ/2)) = 2r·sin²(φ/4), the form that keeps its precision on large
// circles.
func appendFlatArc(pts []Point, from Point, s Segment, chord float64) []Point {
	if s.Straight() {
		return append(pts, s.End)
	}
	c, r, start, sweep := ArcCircle(from, s)
	if chord < r {
		n := math.Ceil(math.Abs(sweep) / (4 * math.Asin(math.Sqrt(chord/(2*r)))))
		n = math.Min(n, maxPieces)
		for i := 1.0; i < n; i++ {
			sin, cos := math.Sincos(start + sweep*i/n)
			pts = append(pts, Point{c.X + r*cos, c.Y + r*sin})
		}
	}
	return append(pts, s.End)
}

// appendFlatCubic splits evenly: over a step h a chord strays by at most
// h²/8·max|B″|, and |B″| is at most 6 times the larger second difference of
// the control points.
func appendFlatCubic(pts []Point, from Point, s Segment, chord float64) []Point {
	d1 := from.Sub(s.C1.Mul(2)).Add(s.C2).Norm()
	d2 := s.C1.Sub(s.C2.Mul(2)).Add(s.End).Norm()
	n := math.Ceil(math.Sqrt(0.75 * math.Max(d1, d2) / chord))
	n = math.Min(n, maxPieces)
	for i := 1.0; i < n; i++ {
		pts = append(pts, CubicAt(from, s, i/n))
	}
	return append(pts, s.End)
}
