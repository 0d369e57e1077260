package passes_test

import (
	"context"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
)

// Large and hostile jobs end soon once nobody waits for them.
func TestOrderStops(t *testing.T) {
	many := 2_000
	if cost.Watched {
		many /= 2 // the race detector takes about ten times as long
	}
	for name, j := range map[string]job{
		"many strokes":        oneLoad(t, lettering(many)...),
		"many copies":         jobOn(t, "film-removable-610", many, square(artwork.KissCut, 0, 0, 20)),
		"many sheets":         jobOn(t, "card-160-a4", 4_000, square(artwork.ThroughCut, 0, 0, 80), square(artwork.ThroughCut, 20, 20, 10)),
		"rings in rings":      oneLoad(t, rings(3000)...),
		"relief between many": oneLoad(t, combs(1000)...),
		"one long line":       oneLoad(t, zigzag(artwork.KissCut, 100_000)),
		"a long perforation":  jobOn(t, "card-160-a3", 1, zigzag(artwork.Perforate, 2_000)),
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error {
				_, err := passes.Order(ctx, j.strokes, j.layout, j.req)
				return err
			})
		})
	}
}

// rings returns n squares each of which holds the ones before.
func rings(n int) []artwork.Stroke {
	strokes := make([]artwork.Stroke, n)
	for i := range strokes {
		strokes[i] = square(artwork.KissCut, -float64(i)/20, -float64(i)/20, 1+float64(i)/10)
	}
	return strokes
}

// combs returns n small squares in rows, and n lines that end on them.
func combs(n int) []artwork.Stroke {
	strokes := make([]artwork.Stroke, 0, 2*n)
	for i := range n {
		x, y := float64(i%100)*4, float64(i/100)*4
		line := artwork.Stroke{Path: geometry.Polyline(geometry.Pt(x+2, y+1), geometry.Pt(x+4, y+1)), Operation: artwork.KissCut, Added: artwork.Relief}
		strokes = append(strokes, square(artwork.KissCut, x, y, 2), line)
	}
	return strokes
}

// zigzag returns a line of n pieces of 20 mm that leave hardly any width free.
func zigzag(op artwork.Operation, n int) artwork.Stroke {
	pts := make([]geometry.Point, n+1)
	for i := range pts {
		pts[i] = geometry.Pt(float64(i)*200/float64(n), float64(i%2)*20)
	}
	return artwork.Stroke{Path: geometry.Polyline(pts...), Operation: op}
}
