package picture_test

import (
	"context"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
)

// Every picture of much stops with its context while it is made and while it is
// written.
func TestStop(t *testing.T) {
	m, l, pp := crowd(15_000, 20)
	a := &artwork.Artwork{Bounds: m.Bounds, Strokes: m.Strokes}
	d := &read.Result{}
	for i := range m.Strokes {
		d.Shapes = append(d.Shapes, drawing.Shape{Paths: []geometry.Path{m.Strokes[i].Path}})
	}
	pieces := squares(8000)
	for name, draw := range map[string]func(context.Context) (*figure.Picture, error){
		"drawing": func(ctx context.Context) (*figure.Picture, error) { return picture.Drawing(ctx, d) },
		"size":    func(ctx context.Context) (*figure.Picture, error) { return picture.Size(ctx, d, &size.Result{}) },
		"artwork": func(ctx context.Context) (*figure.Picture, error) { return picture.Artwork(ctx, a) },
		"weeding": func(ctx context.Context) (*figure.Picture, error) { return picture.Weeding(ctx, pieces) },
		"layout":  func(ctx context.Context) (*figure.Picture, error) { return picture.Layout(ctx, l, m, 1) },
		"passes":  func(ctx context.Context) (*figure.Picture, error) { return picture.Passes(ctx, pp, l, m, 1) },
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error {
				p, err := draw(ctx)
				if err != nil {
					return err
				}
				if _, err := p.SVG(ctx); err != nil {
					return err
				}
				_, err = p.PNG(ctx, 1)
				return err
			})
		})
	}
}
