package knife

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// curveLooks is at how many places the curvature of a Bézier curve is looked at.
const curveLooks = 16

// Tightest returns the least radius of a curve of the line and a point near it;
// infinite where the line has no curves. Corners have no radius.
func Tightest(b *budget.Budget, line geometry.Path) (radius float64, at geometry.Point) {
	radius = math.Inf(1)
	from := line.Start
	for _, s := range line.Segments {
		b.Step()
		switch {
		case s.Kind == geometry.Cubic:
			b.Spend(curveLooks)
			for i := 1; i < curveLooks; i++ {
				t := float64(i) / curveLooks
				if r := cubicRadius(from, s, t); r < radius {
					radius, at = r, geometry.CubicAt(from, s, t)
				}
			}
		case s.Kind == geometry.Arc && !s.Straight():
			if _, r, _, _ := geometry.ArcCircle(from, s); r < radius && from != s.End {
				radius, at = r, s.End
			}
		}
		from = s.End
	}
	return radius, at
}

// cubicRadius is the radius of curvature at t: |B′|³ / |B′ × B″|.
func cubicRadius(from geometry.Point, s geometry.Segment, t float64) float64 {
	d := geometry.CubicTangent(from, s, t)
	a, c := s.C1.Sub(from), s.C2.Sub(s.C1)
	e := s.End.Sub(s.C2)
	second := c.Sub(a).Mul(6 * (1 - t)).Add(e.Sub(c).Mul(6 * t))
	bend := math.Abs(d.Cross(second))
	if bend == 0 {
		return math.Inf(1)
	}
	n := d.Norm()
	return n * n * n / bend
}
