package passes_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// lettering returns n strokes that look like rows of letters: outlines of a
// dozen curves, a third of them with a counter, all scattered a little by a
// fixed sequence.
func lettering(n int) []artwork.Stroke {
	strokes := make([]artwork.Stroke, 0, n)
	seed := uint64(7)
	random := func() float64 {
		seed = seed*6364136223846793005 + 1442695040888963407
		return float64(seed>>40) / (1 << 24)
	}
	ring := func(x, y, r float64) artwork.Stroke {
		p := geometry.Path{Start: geometry.Pt(x+r, y), Closed: true}
		p.Segments = geometry.EllipseArc(geometry.Pt(x, y), geometry.Pt(r, 0), geometry.Pt(0, r*0.8), 0, 2*math.Pi)
		p.Segments[len(p.Segments)-1].End = p.Start
		return artwork.Stroke{Path: p, Operation: artwork.KissCut}
	}
	columns := int(math.Sqrt(float64(n)))
	for i := 0; len(strokes) < n; i++ {
		x, y := float64(i%columns)*6+2*random(), float64(i/columns)*8+2*random()
		strokes = append(strokes, ring(x, y, 2.5))
		if i%3 == 0 && len(strokes) < n {
			strokes = append(strokes, ring(x, y, 1))
		}
	}
	return strokes
}

// oneLoad returns strokes on a sheet of film, all in one band of the feed, which
// is the harder case.
func oneLoad(t testing.TB, strokes ...artwork.Stroke) job {
	t.Helper()
	j := jobOn(t, "film-removable-610", 1, square(artwork.KissCut, 0, 0, 1))
	j.req.Stock.Form = workshop.Sheet
	j.strokes = strokes
	j.layout = &layout.Layout{Loads: []layout.Load{{Number: 1, Placements: []layout.Placement{{Copy: 1, Transform: geometry.Identity}}}}}
	return j
}

func BenchmarkOrder(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10000} {
		b.Run(fmt.Sprintf("strokes=%d", n), func(b *testing.B) {
			j := oneLoad(b, lettering(n)...)
			var plan *passes.Plan
			for b.Loop() {
				plan = j.order(b)
			}
			b.ReportMetric(plan.TravelMM/float64(n), "travel-mm/stroke")
		})
	}
}
