package workshop_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/workshop"
)

// By hand, on a sheet of 210 × 297 mm: where a point 10 mm from the left and 20 mm
// from the leading edge lies, and where the sheet does. Nothing is ever mirrored.
func TestAxes(t *testing.T) {
	for _, tt := range []struct {
		axes     workshop.Axes
		point    geometry.Point
		min, max geometry.Point
	}{
		{workshop.Axes{}, geometry.Pt(10, 20), geometry.Pt(0, 0), geometry.Pt(210, 297)},
		{workshop.Axes{Feed: workshop.PlusY, Origin: workshop.LeadRight}, geometry.Pt(-200, 20), geometry.Pt(-210, 0), geometry.Pt(0, 297)},
		{workshop.Axes{Feed: workshop.PlusX, Origin: workshop.LeadRight}, geometry.Pt(20, 200), geometry.Pt(0, 0), geometry.Pt(297, 210)},
		{workshop.Axes{Feed: workshop.PlusX, Origin: workshop.LeadLeft}, geometry.Pt(20, -10), geometry.Pt(0, -210), geometry.Pt(297, 0)},
		{workshop.Axes{Feed: workshop.MinusX, Origin: workshop.TailLeft}, geometry.Pt(277, 10), geometry.Pt(0, 0), geometry.Pt(297, 210)},
		{workshop.Axes{Feed: workshop.MinusY, Origin: workshop.TailRight}, geometry.Pt(200, 277), geometry.Pt(0, 0), geometry.Pt(210, 297)},
	} {
		m, sheet := tt.axes.Onto(210, 297)
		if got := m.Apply(geometry.Pt(10, 20)); got.Dist(tt.point) > 1e-9 || sheet.Min.Dist(tt.min) > 1e-9 || sheet.Max.Dist(tt.max) > 1e-9 || m.Det() != 1 {
			t.Errorf("%+v: %v on %v, determinant %g", tt.axes, got, sheet, m.Det())
		}
	}
}
