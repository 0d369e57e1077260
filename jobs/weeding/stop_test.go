package weeding_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// crowds are further drawings that keep one part of the job busy: many
// circles, lines that nearly all cross each other, one outline drawn over and
// over, outlines that all meet in a point, and lettering of 40,000 lines.
func crowds(t *testing.T) map[string]*artwork.Artwork {
	var circles, repeated, petals []geometry.Path
	for i := range 1600 {
		circles = append(circles, geometry.Circle(geometry.Pt(float64(i%40)*20, float64(i/40)*20), 8))
		repeated = append(repeated, geometry.Circle(geometry.Pt(0, 0), 30))
	}
	for i := range 400 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 400)
		far := geometry.Pt(50*cos, 50*sin)
		petals = append(petals, geometry.Polygon(geometry.Pt(0, 0), far, far.Add(geometry.Pt(-sin, cos).Mul(0.1))))
	}
	var star []geometry.Point
	for i := range 301 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i*149) / 301)
		star = append(star, geometry.Pt(90*cos, 90*sin))
	}
	return map[string]*artwork.Artwork{
		"1,600 circles": outlined(circles...), "one circle 1,600 times": outlined(repeated...),
		"petals": outlined(petals...), "a star": outlined(geometry.Polygon(star...)), "a page": page(t, 40_000),
	}
}

// TestChartStops stops the maps of large and hostile artwork, read in the way
// that takes longest.
func TestChartStops(t *testing.T) {
	all := hostileArtwork()
	for name, a := range crowds(t) {
		all[name] = a
	}
	for name, a := range all {
		req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
		t.Run(name, func(t *testing.T) { stop.Check(t, charting(a, req)) })
	}
}

// TestStencilsAndWeldsStop stops the bridging of many islands and the joining
// of outlines that cross, drawn as outlines and filled.
func TestStencilsAndWeldsStop(t *testing.T) {
	hostile := hostileArtwork()
	var islands []geometry.Path
	for i := range 400 {
		at := geometry.Pt(float64(i%20)*20, float64(i/20)*20)
		islands = append(islands, geometry.Circle(at, 8), geometry.Circle(at, 4))
	}
	filled := &artwork.Artwork{Strokes: slices.Clone(hostile["circles that cross each other"].Strokes)}
	for i := range filled.Strokes {
		filled.Strokes[i].Fill = drawing.NonZero
	}
	stencil := weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true}
	weld := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true, Weld: true}
	for _, c := range []struct {
		name string
		a    *artwork.Artwork
		req  weeding.Request
	}{
		{"islands", outlined(islands...), stencil},
		{"nested rings", hostile["nested rings"], stencil},
		{"circles that cross", hostile["circles that cross each other"], weld},
		{"filled circles that cross", filled, weld},
	} {
		t.Run(c.name, func(t *testing.T) { stop.Check(t, charting(c.a, c.req)) })
	}
}

// charting returns a computation for stop.Check.
func charting(a *artwork.Artwork, req weeding.Request) func(context.Context) error {
	return func(ctx context.Context) error {
		m, err := weeding.Chart(ctx, a, req)
		if err == nil && m == nil {
			return errors.New("neither a map nor an error")
		}
		return err
	}
}
