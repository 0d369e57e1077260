package clearance_test

import (
	"context"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/geometrytest/stop"
)

// hostileRegions are regions of many sides: a plate with 2,500 circles cut out,
// a plate with holes nearer to each other than any line may come, a zigzag
// whose long sides run through most cells, and one winding ring of 20,000.
func hostileRegions() map[string][][]geometry.Point {
	plate := func(pitch, radius float64) [][]geometry.Point {
		rings := [][]geometry.Point{{{X: -5, Y: -5}, {X: 50*pitch + 5, Y: -5}, {X: 50*pitch + 5, Y: 50*pitch + 5}, {X: -5, Y: 50*pitch + 5}}}
		for i := range 2500 {
			circle := geometry.Circle(geometry.Pt(float64(i%50)*pitch, float64(i/50)*pitch), radius).Flatten(0.01)
			rings = append(rings, circle[1:])
		}
		return rings
	}
	var zigzag, winding []geometry.Point
	for i := range 1500 {
		y := float64(i) / 50
		zigzag = append(zigzag, geometry.Pt(0, y), geometry.Pt(1000, y+0.002))
	}
	for i := range 20_000 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 20_000)
		r := 300 + 20*math.Sin(float64(i)/50)
		winding = append(winding, geometry.Pt(r*cos, r*sin))
	}
	return map[string][][]geometry.Point{
		"circles": plate(2, 0.6), "specks": plate(0.05, 0.02),
		"zigzag": {append(zigzag, geometry.Pt(-10, 30), geometry.Pt(-10, 0))}, "winding": {winding},
	}
}

// TestMeasuresStop stops every measure of the hostile regions.
func TestMeasuresStop(t *testing.T) {
	for name, rings := range hostileRegions() {
		r := clearance.NewRegion(nil, rings...)
		middle := r.Bounds().Centre()
		for what, measure := range map[string]func(*budget.Budget){
			"made":     func(b *budget.Budget) { clearance.NewRegion(b, rings...) },
			"measured": func(b *budget.Budget) { r.Measure(b, 1) },
			"pole":     func(b *budget.Budget) { r.Pole(b, 0.05) },
			"opened":   func(b *budget.Budget) { clearance.Slit(b, rings...) },
			"looked through": func(b *budget.Budget) {
				r.Middles(b, 1, func(_ int, _ float64, at, normal geometry.Point) {
					r.Cast(b, at.Add(normal.Mul(1e-4)), normal, 1000)
				})
			},
			"searched": func(b *budget.Budget) {
				for i := range 20 {
					p := middle.Add(geometry.Pt(float64(i)/20, 0.01))
					r.Inside(b, p)
					r.Nearest(b, p, math.Inf(1))
					r.Clear(b, r.Bounds().Min, p, 0)
				}
			},
		} {
			t.Run(name+" "+what, func(t *testing.T) {
				stop.Check(t, func(ctx context.Context) error { return budget.Run(ctx, measure) })
			})
		}
	}
}
