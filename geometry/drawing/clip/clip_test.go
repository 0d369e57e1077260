package clip_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/clip"
)

func must(t *testing.T, d string) []geometry.Path {
	t.Helper()
	ps, err := geometry.ParsePathData(d)
	if err != nil {
		t.Fatal(err)
	}
	return ps
}

func TestVisible(t *testing.T) {
	window := drawing.Clip{Regions: []drawing.Region{{Paths: must(t, "M0 0H10V10H0Z"), FillRule: drawing.NonZero}}}
	ink := drawing.RGB(0, 0x7c, 0x91)
	for _, tt := range []struct {
		name         string
		shape        drawing.Shape
		paths        int
		length, area float64
	}{
		{"a line across", drawing.Shape{Paths: must(t, "M-5 5H15"), Stroke: ink}, 1, 10, math.NaN()},
		{"an outline across a corner", drawing.Shape{Paths: must(t, "M5 5H15V15H5Z"), Stroke: ink}, 1, 10, math.NaN()},
		{"wholly inside keeps its curve", drawing.Shape{Paths: []geometry.Path{geometry.Circle(geometry.Pt(5, 5), 3)}, Stroke: ink}, 1, 6 * math.Pi, 9 * math.Pi},
		{"wholly outside goes", drawing.Shape{Paths: must(t, "M20 20H30V30H20Z"), Stroke: ink}, 0, 0, 0},
		{"in and out twice", drawing.Shape{Paths: must(t, "M-5 2H15V8H-5"), Stroke: ink}, 2, 20, math.NaN()},
		{"wholly outside an area goes", drawing.Shape{Paths: must(t, "M20 20H30V30H20Z"), Fill: ink}, 0, 0, 0},
		{"an area across a corner", drawing.Shape{Paths: must(t, "M5 5H15V15H5Z"), Fill: ink}, 1, 20, 25},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.shape.Clips = []int{0}
			d := &drawing.Drawing{Shapes: []drawing.Shape{tt.shape}, Clips: []drawing.Clip{window}}
			if cut, whole := clip.Visible(nil, d, 0.001); cut != 1 || whole != 0 {
				t.Fatalf("cut %d, whole %d", cut, whole)
			}
			if tt.paths == 0 {
				if len(d.Shapes) != 0 {
					t.Errorf("left %v", d.Shapes)
				}
				return
			}
			paths := d.Shapes[0].Paths
			length, area := 0.0, 0.0
			for _, p := range paths {
				length += p.Length()
				area += math.Abs(p.Area())
			}
			if len(paths) != tt.paths || math.Abs(length-tt.length) > 1e-6 {
				t.Errorf("%d paths of %.6f in all, want %d of %.6f: %v", len(paths), length, tt.paths, tt.length, paths)
			}
			if !math.IsNaN(tt.area) && math.Abs(area-tt.area) > 1e-5 {
				t.Errorf("area %.6f, want %.6f", area, tt.area)
			}
		})
	}
}
