package figure_test

import (
	"context"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/geometry/geometrytest/stop"
)

// comb is an outline of n teeth, 100 mm high and 150 mm wide.
func comb(n int) geometry.Path {
	var pts []geometry.Point
	for i := range n {
		x := 150 * float64(i) / float64(n)
		pts = append(pts, geometry.Pt(x, 0), geometry.Pt(x, 100*math.Abs(math.Sin(float64(i)))))
	}
	return geometry.Polygon(append(pts, geometry.Pt(150, -5), geometry.Pt(0, -5))...)
}

// chords is n straight lines across 100 × 100 mm.
func chords(n int) []geometry.Path {
	all := make([]geometry.Path, n)
	for i := range all {
		from, to := math.Mod(float64(i)*0.618, 1), math.Mod(float64(i)*0.382, 1)
		all[i] = geometry.Polyline(geometry.Pt(100*from, 0), geometry.Pt(100*to, 100))
	}
	return all
}

// show draws on a page and finishes it.
func show(ctx context.Context, extent geometry.Box, draw func(*figure.Page)) (p *figure.Picture, err error) {
	err = budget.Run(ctx, func(b *budget.Budget) {
		page := figure.New(b, figure.Screen(0), "Much", "to draw")
		page.Open(extent, figure.Inset{})
		draw(page)
		p = page.Finish()
	})
	return p, err
}

// Making a picture stops, and so does writing it, whatever takes long in it.
func TestStop(t *testing.T) {
	square := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(100, 100))
	dashed := figure.Style{Stroke: figure.Ink, Width: 1, Dash: []float64{5, 4}}
	slanted := figure.Pattern{Tint: "#fbe9c9", Deg: 45, Gap: 3, Line: figure.Style{Stroke: figure.Faint, Width: 1}}
	teeth, lines := comb(15_000), chords(30_000)
	for name, compute := range map[string]func(context.Context) error{
		"making": func(ctx context.Context) error {
			_, err := show(ctx, square, func(p *figure.Page) {
				for range 2 {
					p.Show(dashed, p.DetailOf(lines, 60).Shown...)
				}
				p.Fill(slanted, p.Project([]geometry.Path{teeth}))
			})
			return err
		},
		"a dashed SVG": written(lines, dashed, func(ctx context.Context, p *figure.Picture) error {
			for range 3 {
				if _, err := p.SVG(ctx); err != nil {
					return err
				}
			}
			return nil
		}),
		"a dashed PNG": written(lines[:500], dashed, pngOf(2)),
		"a line's PNG": written(lines, figure.Style{Stroke: figure.Ink, Width: 1}, pngOf(0.5)),
		"a filled PNG": written([]geometry.Path{teeth}, figure.Style{Fill: figure.Ink}, pngOf(0.3)),
		"a large PNG":  written(nil, dashed, pngOf(5)),
	} {
		t.Run(name, func(t *testing.T) { stop.Check(t, compute) })
	}
}

// written is what draws paths in the style, once, and writes the picture.
func written(paths []geometry.Path, s figure.Style, write func(context.Context, *figure.Picture) error) func(context.Context) error {
	square := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(100, 100))
	p, err := show(context.Background(), square, func(p *figure.Page) { p.Show(s, paths...) })
	return func(ctx context.Context) error {
		if err != nil {
			return err
		}
		return write(ctx, p)
	}
}

func pngOf(scale float64) func(context.Context, *figure.Picture) error {
	return func(ctx context.Context, p *figure.Picture) error {
		_, err := p.PNG(ctx, scale)
		return err
	}
}
