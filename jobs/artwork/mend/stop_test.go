package mend_test

import (
	"context"
	"math"
	"runtime"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
)

// petals is an open path whose ends meet, with so many petals at one end of it
// that lie apart and a tail of so many chords far from them.
func petals(n, tail int) []artwork.Stroke {
	var pts []geometry.Point
	for i := range n {
		sin, cos := math.Sincos(math.Pi / 2 * (float64(i)/float64(n) - 0.5))
		pts = append(pts, geometry.Pt(0, 0), geometry.Pt(9*cos, 9*sin))
	}
	for i := range tail {
		pts = append(pts, geometry.Pt(20+float64(i%2), float64(i)/10))
	}
	return []artwork.Stroke{{Path: geometry.Polyline(append(pts, geometry.Pt(0, 0))...), Operation: artwork.ThroughCut}}
}

// A path that comes by its least vertex thousands of times is turned to start
// there without trying out each start at its full length.
func TestPetalsAreTurnedInPlace(t *testing.T) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	r := mend.Lines(nil, petals(1000, 50_000), mend.Options{Limits: mend.DefaultLimits(), Off: []string{mend.MendDuplicates}})
	if len(r.Strokes) != 1 || !r.Strokes[0].Path.Closed || r.Strokes[0].Path.Start != geometry.Pt(0, 0) {
		t.Errorf("%d strokes", len(r.Strokes))
	}
	runtime.ReadMemStats(&after)
	if made := after.TotalAlloc - before.TotalAlloc; made > 1<<30 {
		t.Errorf("%d MB were made on the way", made>>20)
	}
}

// However many lines there are, and without a bound on the looks at them, who
// stops does not wait.
func TestStops(t *testing.T) {
	for name, strokes := range map[string][]artwork.Stroke{
		"loose lines": loose(40_000), "chords": chords(700), "triangles": triangles(300), "grid": grid(900), "petals": petals(400, 20_000),
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error {
				return budget.Run(ctx, func(b *budget.Budget) {
					mendAll(mend.InOrder(b, strokes), mend.NewEffort(b, 1<<30))
					mend.TooLong(b, strokes)
					mend.Faceted(b, strokes)
				})
			})
		})
	}
}
