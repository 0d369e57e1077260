package clip_test

import (
	"context"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/clip"
	"knifedesk/geometry/geometrytest/stop"
)

// jagged is a ring of n chords that goes in and out of a circle of radius 100.
func jagged(n int, depth float64) geometry.Path {
	pts := make([]geometry.Point, n)
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := 100 + depth*float64(i%2*2-1)
		pts[i] = geometry.Pt(r*cos, r*sin)
	}
	return geometry.Polygon(pts...)
}

// As intricate as shapes and clips may be, who stops does not wait for them.
func TestStops(t *testing.T) {
	ink := drawing.RGB(0, 0x7c, 0x91)
	for _, tt := range []struct {
		name         string
		shape, clip  int // chords
		shapes       int
		stroke, fill *drawing.Colour
	}{
		{"a long line", 200_000, 4, 1, ink, nil},
		{"a long area", 60_000, 4, 1, nil, ink},
		{"an intricate clip", 4, 100_000, 1, ink, nil},
		{"both", 1100, 1100, 20, ink, nil},
		{"both, as areas", 1100, 1100, 20, nil, ink},
		{"many shapes", 8, 2000, 300, ink, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			window := drawing.Clip{Regions: []drawing.Region{{Paths: []geometry.Path{jagged(tt.clip, 5)}}}}
			shape := drawing.Shape{Paths: []geometry.Path{jagged(tt.shape, 6)}, Stroke: tt.stroke, Fill: tt.fill, Clips: []int{0}}
			stop.Check(t, func(ctx context.Context) error {
				d := &drawing.Drawing{Clips: []drawing.Clip{window}}
				for range tt.shapes {
					d.Shapes = append(d.Shapes, shape)
				}
				return budget.Run(ctx, func(b *budget.Budget) {
					if cut, whole := clip.Visible(b, d, 0.01); cut != tt.shapes || whole > 0 {
						t.Errorf("%d cut, %d whole", cut, whole)
					}
				})
			})
		})
	}
}
