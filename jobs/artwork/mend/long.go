package mend

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// A path may have a million segments, so what is measured along it is measured
// in steps.

// stepsOfCurve is how many steps the length of a Bézier counts for: where it
// has a cusp, it takes half a millisecond to find.
const stepsOfCurve = 8

// lengthOf returns the length of p, as its method does.
func lengthOf(b *budget.Budget, p geometry.Path) float64 {
	sum := 0.0
	from := p.Start
	for _, s := range p.Segments {
		sum += measured(b, piece{from, s})
		from = s.End
	}
	return sum
}

// measured returns the length of p.
func measured(b *budget.Budget, p piece) float64 {
	if p.seg.Kind == geometry.Cubic {
		b.Spend(stepsOfCurve)
	} else {
		b.Step()
	}
	return p.length()
}

// flat returns the ends of the chords of p, as its method Flatten does.
func flat(b *budget.Budget, p geometry.Path) []geometry.Point {
	pts := make([]geometry.Point, 1, len(p.Segments)+1)
	pts[0] = p.Start
	from := p.Start
	for _, s := range p.Segments {
		before := len(pts)
		pts = s.AppendFlat(pts, from, flatMM)
		b.Spend(1 + (len(pts)-before)/8)
		from = s.End
	}
	return pts
}
