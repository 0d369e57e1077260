package irregular_test

import (
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/nest/irregular"
	"knifedesk/geometry/planar"
)

var (
	sets   = flag.String("sets", "", "run the classic sets of these names, separated by commas")
	effort = flag.Int("effort", 0, "0 quick, 1 normal, 2 thorough")
	seed   = flag.Uint64("seed", 1, "seed")
	trace  = flag.Bool("trace", false, "trace")
)

type set struct {
	Name   string  `json:"name"`
	Height float64 `json:"strip_height"`
	Items  []struct {
		Demand int       `json:"demand"`
		Turns  []float64 `json:"allowed_orientations"`
		Shape  struct {
			Data [][2]float64 `json:"data"`
		} `json:"shape"`
	} `json:"items"`
}

var records = map[string]float64{
	"albano": 9692.056, "dighe1": 100, "fu": 30.843, "gardeyn0": 48681.078, "gardeyn2": 47382.848, "gardeyn3": 60397.832,
	"gardeyn4": 4733.340, "gardeyn6": 17061.811, "gardeyn7": 5067.831, "gardeyn9": 65.793, "jakobs1": 10.980, "mao": 1696.802,
	"poly1a": 10.25, "poly2b": 22.61, "poly3a": 30.75, "poly4a": 41, "poly4b": 38.67, "shapes0": 57.012, "shapes1": 52.002, "shirts": 59.393, "swim": 5541.653,
}

func load(t testing.TB, name string) (irregular.Problem, float64) {
	data, err := os.ReadFile(reference.Path(t, "benchmarks", "nesting", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var s set
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	k := 1.0
	for s.Height*k > 1000 {
		k /= 10
	}
	p := irregular.Problem{Sheet: irregular.Sheet{WidthMM: s.Height * k}}
	for _, it := range s.Items {
		var ring []geometry.Point
		for _, c := range it.Shape.Data {
			ring = append(ring, geometry.Pt(-c[1]*k, c[0]*k))
		}
		piece := irregular.Piece{Area: planar.Polygons{{Outer: ring}}, Demand: it.Demand}
		for _, d := range it.Turns {
			piece.Turns = append(piece.Turns, irregular.Turn{Degrees: d})
		}
		p.Pieces = append(p.Pieces, piece)
	}
	return p, k
}

func TestClassicSets(t *testing.T) {
	for _, name := range strings.FieldsFunc(*sets, func(r rune) bool { return r == ',' }) {
		p, k := load(t, name)
		start := time.Now()
		l, err := irregular.Nest(nil, p, irregular.Options{Effort: irregular.Effort(*effort), Seed: *seed, Progress: func(p irregular.Progress) {
			if *trace {
				t.Logf("%.2f %.3f", p.Done, (p.LengthMM/k/records[name]-1)*100)
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		check(t, p, l)
		t.Logf("%-10s %.3f gap %.2f %% in %.1fs", name, l.LengthMM/k, (l.LengthMM/k/records[name]-1)*100, time.Since(start).Seconds())
	}
}
