package tour_test

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/tour"
)

// The order in blocks does the same as that in one array, whatever is exchanged: checked
// move by move against it.
func TestBlocksAreOrderedAsAnArray(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for n := range 6 {
		if err := tour.BlocksAgree(1500, 400, random.IntN); err != nil {
			t.Fatalf("sequence %d: %v", n, err)
		}
	}
}

// What a path is said to be is what it is: the lines that the search turned round are
// entered by the other end.
func TestPathCostsWhatWasFound(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	cost := motion.Axes{TravelMMS: 200, AccelMMS2: 1000}.Travel()
	for range 3 {
		lines := scattered(random, 13+random.IntN(20))
		taken, found := tour.Shortest(lines, geometry.Point{}, cost)
		if math.Abs(taken-found) > 1e-9*found {
			t.Fatalf("the path costs %.6f s, the search found %.6f s", taken, found)
		}
	}
}

// Links are kept beside the order: each is that to the stop which comes next, and costs
// what it is said to.
func TestLinksFollowTheOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	cost := motion.Axes{TravelMMS: 200, AccelMMS2: 1000}.Travel()
	for _, n := range []int{5, 40, 300} {
		if err := tour.LinksAgree(scattered(random, n), cost); err != nil {
			t.Errorf("%d stops: %v", n, err)
		}
	}
}

// scattered returns open lines, and contours that hold every third of them.
func scattered(random *rand.Rand, n int) []tour.Stop {
	stops := make([]tour.Stop, n)
	side := 7 * math.Sqrt(float64(n))
	var at geometry.Point
	for i := range stops {
		if i%3 == 0 {
			at = geometry.Pt(side*random.Float64(), side*random.Float64())
		}
		from := at.Add(geometry.Pt(5*random.Float64(), 5*random.Float64()))
		stops[i] = tour.Stop{Entries: []geometry.Point{from, from.Add(geometry.Pt(9*random.Float64(), 9*random.Float64()))}}
		if i%3 == 0 {
			stops[i].Closed = true
		} else {
			stops[i].After = []int{i - i%3}
		}
	}
	return stops
}

// Memory grows with the stops and not with their square, also where long pieces are
// exchanged, and what has to come first does.
func TestManyStopsInLinearMemory(t *testing.T) {
	cost := motion.Axes{TravelMMS: 200, AccelMMS2: 1000}.Travel()
	each := func(n int) float64 {
		stops := scattered(rand.New(rand.NewPCG(7, 8)), n)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		path := tour.Through(nil, stops, geometry.Point{}, cost)
		runtime.ReadMemStats(&after)
		inOrder(t, stops, path)
		return float64(after.TotalAlloc-before.TotalAlloc) / float64(n)
	}
	few, many := each(10_500), each(21_000)
	if many > 1.5*few || many > 6000 {
		t.Errorf("%.0f bytes a stop of 21,000, %.0f of half as many", many, few)
	}
}

// inOrder holds that every stop is visited once, and after those that have to come
// before it: apart from the search, by the numbers alone.
func inOrder(t *testing.T, stops []tour.Stop, path []tour.Visit) {
	t.Helper()
	at := make([]int, len(stops))
	for i, v := range path {
		at[v.Stop] = i + 1
	}
	for i := range stops {
		if at[i] == 0 || len(path) != len(stops) {
			t.Fatalf("stop %d is not visited", i)
		}
		for _, later := range stops[i].After {
			if at[later] < at[i] {
				t.Fatalf("stop %d comes after %d", i, later)
			}
		}
	}
}

// BenchmarkManyStops orders 100,000 open lines, a third of them in the contours of others.
func BenchmarkManyStops(b *testing.B) {
	stops := scattered(rand.New(rand.NewPCG(7, 8)), 100_000)
	cost := motion.Axes{TravelMMS: 200, AccelMMS2: 1000}.Travel()
	b.ReportAllocs()
	for b.Loop() {
		tour.Through(nil, stops, geometry.Point{}, cost)
	}
}
