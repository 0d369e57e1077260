package knife_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/knife"
)

// By hand: the radius of an arc is its own, that of an ellipse b²/a at the ends of
// its longer axis (analytic geometry), and corners have none.
func TestTightest(t *testing.T) {
	ellipse := geometry.Path{Start: geometry.Pt(6, 0)}
	ellipse.Segments = geometry.EllipseArc(geometry.Point{}, geometry.Pt(6, 0), geometry.Pt(0, 2), 0.3, -0.6)
	ellipse.Start = geometry.Pt(6*math.Cos(0.3), 2*math.Sin(0.3))
	for _, tt := range []struct {
		line geometry.Path
		want float64
		at   geometry.Point
	}{
		{path(t, "M0 0L9 0L9 9Z"), math.Inf(1), geometry.Point{}},
		{path(t, "M0 0L9 0A2 2 0 0 1 9 4A5 5 0 0 1 9 14"), 2, geometry.Pt(9, 4)},
		{ellipse, 2. * 2 / 6, geometry.Pt(6, 0)},
		{ellipse.Transform(geometry.Scale(0.1, 0.1)), 0.2 * 0.2 / 0.6, geometry.Pt(0.6, 0)},
	} {
		got, at := knife.Tightest(nil, tt.line)
		if math.IsInf(tt.want, 1) {
			if got != tt.want {
				t.Errorf("%v: %g", tt.line, got)
			}
			continue
		}
		near(t, fmt.Sprint(tt.line), got, tt.want, 0.02*tt.want)
		near(t, fmt.Sprint("the place on ", tt.line), at.Dist(tt.at), 0, 0.1*tt.at.Norm())
	}
}
