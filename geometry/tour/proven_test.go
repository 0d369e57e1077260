package tour_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/tour"
)

// Up to twelve stops are ordered exactly, however many entries they have: contours of dozens
// of vertices that lie on and in each other, some before others, and open lines. Compared
// with all orders there are, the best entries of each by dynamic programming along it.
func TestFewStopsOfManyEntriesAreOrderedExactly(t *testing.T) {
	cost := motion.Axes{TravelMMS: 200, AccelMMS2: 1000}.Travel()
	missed := 0
	for seed := range uint64(24) {
		r := rand.New(rand.NewPCG(seed, 41))
		stops := ringsAtRandom(r, 6+int(seed%2), 64-20*int(seed%2))
		taken, found := tour.Shortest(stops, geometry.Point{}, cost)
		want := bestOfAllOrders(stops, cost)
		if math.Abs(taken-want) > 1e-7 {
			t.Errorf("seed %d: %.6f s, the best order takes %.6f", seed, taken, want)
		}
		if found > want+1e-7 {
			missed++
		}
	}
	if missed == 0 {
		t.Error("the search alone finds all of them: nothing is proven")
	}
}

// ringsAtRandom are so many contours of so many vertices, one of them an open line.
func ringsAtRandom(r *rand.Rand, n, vertices int) []tour.Stop {
	stops := make([]tour.Stop, n)
	for i := range stops {
		c, radius := geometry.Pt(120*r.Float64(), 120*r.Float64()), 5+60*r.Float64()
		stops[i].Closed = true
		for k := range vertices + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(vertices))
			stops[i].Entries = append(stops[i].Entries, c.Add(geometry.Pt(radius*cos, 0.6*radius*sin)))
		}
		if i == 0 {
			stops[i] = tour.Stop{Entries: []geometry.Point{c, c.Add(geometry.Pt(radius, 9))}}
		} else if r.IntN(3) == 0 {
			stops[i].After = []int{r.IntN(i)}
		}
	}
	return stops
}

// bestOfAllOrders tries each order that keeps to what comes before what.
func bestOfAllOrders(stops []tour.Stop, cost tour.Cost) float64 {
	n, best := len(stops), math.Inf(1)
	before := make([]int, n)
	for i := range stops {
		for _, later := range stops[i].After {
			before[later] |= 1 << i
		}
	}
	leave := func(i, e int) geometry.Point {
		if stops[i].Closed {
			return stops[i].Entries[e]
		}
		return stops[i].Entries[1-e]
	}
	var goOn func(done, last int, costs []float64)
	goOn = func(done, last int, costs []float64) {
		if done == 1<<n-1 {
			for _, c := range costs {
				best = min(best, c)
			}
			return
		}
		for i := range n {
			if done>>i&1 == 1 || before[i]&^done != 0 {
				continue
			}
			next := make([]float64, len(stops[i].Entries))
			for e, in := range stops[i].Entries {
				next[e] = math.Inf(1)
				if last < 0 {
					next[e] = cost(geometry.Point{}, in)
					continue
				}
				for k, c := range costs {
					next[e] = min(next[e], c+cost(leave(last, k), in))
				}
			}
			goOn(done|1<<i, i, next)
		}
	}
	goOn(0, -1, nil)
	return best
}
