package tour_test

import (
	"context"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/tour"
)

func TestTourStops(t *testing.T) {
	cost := motion.Axes{TravelMMS: 200, AccelMMS2: 1000}.Travel()
	many := stopsInRows(2000, 16)
	large := stopsInRows(14, 8_000)
	chain := stopsInRows(12_000, 1)
	for i := range chain[1:] {
		chain[i].After, chain[i].Phase = []int{i + 1}, len(chain)-i
	}
	squares := make([]geometry.Path, 12_000)
	for i := range squares {
		side := float64(i + 1)
		squares[i] = geometry.Box{Min: geometry.Pt(-side, -side), Max: geometry.Pt(side, side)}.Path()
	}
	for name, compute := range map[string]func(*budget.Budget){
		"many stops":              func(b *budget.Budget) { tour.Through(b, many, geometry.Point{}, cost) },
		"stops with many entries": func(b *budget.Budget) { tour.Through(b, large, geometry.Point{}, cost) },
		"phases pulled forward":   func(b *budget.Budget) { tour.Through(b, chain, geometry.Point{}, cost) },
		"squares in squares": func(b *budget.Budget) {
			cs := make([]tour.Contour, len(squares))
			for i := range cs {
				cs[i] = tour.NewContour(b, squares[i])
			}
			tour.Holders(b, cs)
		},
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error { return budget.Run(ctx, compute) })
		})
	}
}

// stopsInRows returns n closed stops 10 mm apart, each with so many entries.
func stopsInRows(n, entries int) []tour.Stop {
	stops := make([]tour.Stop, n)
	for i := range stops {
		x, y := float64(i%50)*10, float64(i/50)*10
		stops[i].Closed = true
		for e := range entries {
			stops[i].Entries = append(stops[i].Entries, geometry.Pt(x+float64(e%7), y+float64(e*e%11)/2))
		}
	}
	return stops
}

// By hand: an open line and a square in a square, and a square beside them.
func TestHolders(t *testing.T) {
	var cs []tour.Contour
	for _, data := range []string{"M4 5L5 5", "M0 0H20V20H0Z", "M3 3H9V9H3Z", "M30 0H40V10H30Z"} {
		paths, err := geometry.ParsePathData(data)
		if err != nil {
			t.Fatal(err)
		}
		cs = append(cs, tour.NewContour(nil, paths[0]))
	}
	for i, want := range []int{2, -1, 1, -1} {
		if got := tour.Holders(nil, cs)[i]; got != want {
			t.Errorf("contour %d is held by %d, want %d", i, got, want)
		}
	}
	chords := tour.NewChords(nil, cs)
	for _, c := range []struct {
		at   geometry.Point
		want []int
	}{
		{geometry.Pt(20.04, 7), []int{1}}, {geometry.Pt(20.06, 7), nil}, {geometry.Pt(10, 10), nil}, {geometry.Pt(3, 3), []int{2}}, {geometry.Pt(0, 0), []int{1}},
	} {
		if got := chords.Touching(nil, c.at, 0.05); !slices.Equal(got, c.want) {
			t.Errorf("on contours %v lies %v, want %v", got, c.at, c.want)
		}
	}
}
