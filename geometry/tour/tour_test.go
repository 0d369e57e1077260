package tour_test

import (
	"bufio"
	"fmt"
	"math"
	"math/bits"
	"os"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/tour"

	"pgregory.net/rapid"
)

// euc2D is the distance of TSPLIB 95: rounded to whole numbers.
func euc2D(p, q geometry.Point) float64 {
	d := p.Sub(q)
	return math.Floor(math.Sqrt(d.Dot(d)) + 0.5)
}

// Known optima of TSPLIB 95 (Reinelt, ORSA J. Comput. 3, 1991) and of the
// generalised instances made from it (Fischetti, Salazar and Toth, 1997), as
// listed with the reference material. The bound is what a second of work must reach.
func TestToursNearKnownOptima(t *testing.T) {
	for _, c := range []struct {
		file    string
		optimum float64
	}{
		{"tsp/berlin52.tsp", 7542}, {"tsp/eil101.tsp", 629}, {"tsp/kroA200.tsp", 29368}, {"tsp/a280.tsp", 2579},
		{"tsp/pcb442.tsp", 50778}, {"tsp/u574.tsp", 36905}, {"tsp/pr1002.tsp", 259045},
	} {
		t.Run(c.file, func(t *testing.T) {
			groups := readTSPLIB(t, c.file)
			got := tour.RoundTrip(groups, euc2D, tour.KicksMost)
			t.Logf("%g, %.2f %% above %g", got, 100*(got/c.optimum-1), c.optimum)
			if got < c.optimum || got > 1.01*c.optimum {
				t.Errorf("tour of %g, optimum %g", got, c.optimum)
			}
		})
	}
}

// Optima of the generalised instances, one node of each set to be visited
// (Fischetti, Salazar and Toth, Operations Research 45, 1997), as listed with
// the reference material: what closed contours with many starts are like. The bound
// is what a second of work must reach.
func TestGeneralisedToursNearKnownOptima(t *testing.T) {
	for _, c := range []struct {
		file    string
		optimum float64
	}{
		{"gtsp/11eil51.gtsp", 174}, {"gtsp/20kroA100.gtsp", 9711}, {"gtsp/40d198.gtsp", 10557},
		{"gtsp/56a280.gtsp", 1079}, {"gtsp/89pcb442.gtsp", 21657}, {"gtsp/201pr1002.gtsp", 114311},
	} {
		t.Run(c.file, func(t *testing.T) {
			groups := readTSPLIB(t, c.file)
			got := tour.RoundTrip(groups, euc2D, tour.KicksMost)
			t.Logf("%g, %.2f %% above %g", got, 100*(got/c.optimum-1), c.optimum)
			if got < c.optimum || got > 1.01*c.optimum {
				t.Errorf("tour of %g, optimum %g", got, c.optimum)
			}
		})
	}
}

// readTSPLIB reads the nodes, gathered into sets where the file names any.
func readTSPLIB(t *testing.T, file string) [][]geometry.Point {
	t.Helper()
	f, err := os.Open(reference.Path(t, "benchmarks", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var nodes, sets [][]geometry.Point
	section := ""
	for lines := bufio.NewScanner(f); lines.Scan(); {
		line := strings.TrimSpace(lines.Text())
		if strings.HasSuffix(line, "_SECTION") || line == "EOF" {
			section = line
			continue
		}
		switch fields := strings.Fields(line); section {
		case "NODE_COORD_SECTION":
			nodes = append(nodes, []geometry.Point{geometry.Pt(number(t, fields[1]), number(t, fields[2]))})
		case "GTSP_SET_SECTION":
			var set []geometry.Point
			for _, f := range fields[1 : len(fields)-1] {
				set = append(set, nodes[int(number(t, f))-1][0])
			}
			sets = append(sets, set)
		}
	}
	if sets != nil {
		return sets
	}
	return nodes
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Small cases against the exact optimum, by dynamic programming over subsets:
// closed and open stops, several entries, precedence. What the machine takes is
// always optimal here; the search that larger cases rest on mostly is.
func TestSmallToursAreOptimal(t *testing.T) {
	worse, cases := 0, 0
	property.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "stops")
		coord := rapid.Float64Range(0, 100)
		stops := make([]tour.Stop, n)
		for i := range stops {
			stops[i].Closed = rapid.Bool().Draw(t, "closed")
			entries := 2
			if stops[i].Closed {
				entries = rapid.IntRange(1, 4).Draw(t, "entries")
			}
			for range entries {
				stops[i].Entries = append(stops[i].Entries, geometry.Pt(coord.Draw(t, "x"), coord.Draw(t, "y")))
			}
			if i > 0 && rapid.IntRange(0, 3).Draw(t, "held") == 0 {
				stops[i].After = []int{rapid.IntRange(0, i-1).Draw(t, "holder")}
			}
		}
		cost := func(p, q geometry.Point) float64 {
			return motion.MoveTime(math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)), 200, 1000)
		}
		want := exact(stops, geometry.Pt(0, 0), cost)
		taken, found := tour.Shortest(stops, geometry.Pt(0, 0), cost)
		cases++
		if math.Abs(taken-want) > 1e-9 {
			t.Fatalf("%.6f s, optimum %.6f", taken, want)
		}
		if found < want-1e-9 {
			t.Fatalf("the search finds %.6f s, below the optimum %.6f", found, want)
		}
		if found > want*1.0001 {
			worse++
		}
	})
	if worse*10 > cases {
		t.Errorf("the search alone misses the optimum of %d in %d small tours", worse, cases)
	}
}

// exact tries all orders by dynamic programming (Held and Karp, 1962) over
// subsets, last stop and its entry.
func exact(stops []tour.Stop, start geometry.Point, cost func(p, q geometry.Point) float64) float64 {
	n := len(stops)
	before := make([]int, n)
	for i, s := range stops {
		for _, later := range s.After {
			before[later] |= 1 << i
		}
	}
	exit := func(s tour.Stop, e int) geometry.Point {
		if s.Closed {
			return s.Entries[e]
		}
		return s.Entries[1-e]
	}
	best := make([]map[string]float64, 1<<n)
	points := map[string]geometry.Point{"start": start}
	best[0] = map[string]float64{"start": 0}
	answer := math.Inf(1)
	for set := range best {
		for key, c := range best[set] {
			if bits.OnesCount(uint(set)) == n {
				answer = math.Min(answer, c)
			}
			for i, s := range stops {
				if set>>i&1 == 1 || before[i]&^set != 0 {
					continue
				}
				for e, p := range s.Entries {
					next := fmt.Sprint(i, e)
					points[next] = exit(s, e)
					to := set | 1<<i
					if best[to] == nil {
						best[to] = map[string]float64{}
					}
					total := c + cost(points[key], p)
					if old, ok := best[to][next]; !ok || total < old {
						best[to][next] = total
					}
				}
			}
		}
	}
	return answer
}
