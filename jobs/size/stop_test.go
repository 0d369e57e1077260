package size_test

import (
	"context"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/size"
)

// Whatever is drawn, who stops the job does not wait for it.
func TestStops(t *testing.T) {
	at := func(i int) geometry.Point { return geometry.Pt(20+float64(i%1000)*1.5, 20+float64(i/1000)*2) }
	turned := geometry.Rotate(0.2)
	tests := []struct {
		name   string
		n      int
		shape  func(i int) geometry.Path
		answer string
	}{
		{"small boxes", 200_000, func(i int) geometry.Path { return geometry.BoxAround(at(i), at(i).Add(geometry.Pt(0.5, 0.7))).Path() }, ""},
		{"rectangles in rectangles", 50_000, func(i int) geometry.Path {
			return geometry.Box{Max: geometry.Pt(500, 700)}.Grow(-float64(i) / 1000).Path()
		}, ""},
		{"rectangles of one size, turned", 30_000, func(i int) geometry.Path {
			return geometry.Box{Max: geometry.Pt(595+float64(i)/1e5, 842)}.Path().Transform(turned)
		}, "A4.per_axis"},
		{"circles", 50_000, func(i int) geometry.Path { return geometry.Circle(at(i), 0.5) }, ""},
		{"lines that end in one spot", 50_000, func(i int) geometry.Path {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i%4))
			far := geometry.Pt(500*cos, 500*sin).Add(at(i % 7))
			return geometry.Polyline(geometry.Pt(float64(i%9)/10, float64(i%11)/10), far)
		}, ""},
		{"one long curve", 1, func(int) geometry.Path {
			p := geometry.Path{}
			for i := range 500_000 {
				p.Segments = append(p.Segments, geometry.CubicTo(at(3*i), at(5*i+1), at(i)))
			}
			return p
		}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := &drawing.Drawing{Unit: drawing.Unit{Name: "none", MM: 1}}
			for i := range tt.n {
				d.Shapes = append(d.Shapes, drawing.Shape{Paths: []geometry.Path{tt.shape(i)}, Layer: "CUT"})
			}
			req := size.Request{Stock: cardA4}
			if tt.answer != "" {
				req.Replies = ask.Replies{size.QuestionID: {Answer: tt.answer}}
			}
			stop.Check(t, func(ctx context.Context) error {
				_, err := size.Repair(ctx, d, req)
				return err
			})
		})
	}
}
