package irregular_test

import (
	"encoding/json"
	"flag"
	"os"
	"strings"
	"syscall"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/nest/irregular"
	"knifedesk/geometry/planar"
)

var (
	names   = flag.String("sets", "fu,jakobs1", "classic sets to nest, with commas between; all for all of them")
	efforts = flag.String("effort", "quick", "quick, normal or thorough")
	seeds   = flag.Int("seeds", 1, "how often, each time with another seed")
)

// classic is a published set, its length by the README of the reference
// folder: the best one on record, or for poly and dighe1 a lower bound, and its
// family of which the bounds hold.
type classic struct {
	name   string
	length float64
	family string
}

var classics = []classic{
	{"albano", 9692.056, "open"}, {"fu", 30.843, "open"}, {"jakobs1", 10.980, "open"}, {"mao", 1696.802, "open"},
	{"shapes0", 57.012, "open"}, {"shapes1", 52.002, "open"}, {"shirts", 59.393, "open"}, {"swim", 5541.653, "open"},
	{"gardeyn0", 48681.078, "gardeyn"}, {"gardeyn2", 47382.848, "gardeyn"}, {"gardeyn3", 60397.832, "gardeyn"}, {"gardeyn4", 4733.340, "gardeyn"},
	{"gardeyn6", 17061.811, "gardeyn"}, {"gardeyn7", 5067.831, "gardeyn"}, {"gardeyn9", 65.793, "gardeyn"},
	{"poly1a", 10.25, "bound"}, {"poly2b", 22.61, "bound"}, {"poly3a", 30.75, "bound"}, {"poly4a", 41, "bound"}, {"poly4b", 38.67, "bound"}, {"dighe1", 100, "bound"},
}

// limits are the gaps in per cent that the mean and the worst may have after the
// normal effort.
var limits = map[string][2]float64{"open": {3, 6}, "gardeyn": {6, 10}}

// quickLimit is the gap in per cent that a set may have after the quick effort.
func quickLimit(pieces int) float64 {
	if pieces <= 50 {
		return 8
	}
	return 12
}

// TestClassicSets nests published sets, checks every layout, and prints a table.
// The sets are units of their own; they are taken as mm, and a tenth as often as
// it takes for the width to be below a metre.
func TestClassicSets(t *testing.T) {
	effort := map[string]irregular.Effort{"quick": irregular.Quick, "normal": irregular.Normal, "thorough": irregular.Thorough}[*efforts]
	t.Logf("%-10s %4s %10s %10s %7s %7s %8s", "set", "seed", "length", "record", "gap", "density", "cpu")
	gaps := map[string][]float64{}
	for _, c := range classics {
		if *names != "all" && !strings.Contains(","+*names+",", ","+c.name+",") {
			continue
		}
		p, scale := load(t, c.name)
		for seed := range *seeds {
			before := processorTime(t)
			l, err := irregular.Nest(nil, p, irregular.Options{Effort: effort, Seed: uint64(seed + 1)})
			if err != nil {
				t.Fatal(err)
			}
			took := processorTime(t) - before
			check(t, p, l)
			gap := (l.LengthMM/scale/c.length - 1) * 100
			gaps[c.family] = append(gaps[c.family], gap)
			t.Logf("%-10s %4d %10.3f %10.3f %6.2f%% %6.2f%% %7.1fs", c.name, seed+1, l.LengthMM/scale, c.length, gap, density(p, l), took)
			if most := quickLimit(len(l.Placements)); effort == irregular.Quick && c.family != "bound" && gap > most {
				t.Errorf("%s: gap %.2f %%, at most %v promised", c.name, gap, most)
			}
		}
	}
	for family, most := range limits {
		if effort != irregular.Quick && len(gaps[family]) > 0 {
			judge(t, family, gaps[family], most)
		}
	}
}

func judge(t *testing.T, family string, gaps []float64, most [2]float64) {
	sum, worst := 0.0, 0.0
	for _, g := range gaps {
		sum += g
		worst = max(worst, g)
	}
	mean := sum / float64(len(gaps))
	t.Logf("%s: mean gap %.2f %%, worst %.2f %%", family, mean, worst)
	if mean > most[0] || worst > most[1] {
		t.Errorf("%s: at most %v %% and %v %% promised", family, most[0], most[1])
	}
}

// density is the share of the used length that pieces cover, in per cent.
func density(p irregular.Problem, l irregular.Layout) float64 {
	area := 0.0
	for _, piece := range p.Pieces {
		union, _ := planar.Union(nil, piece.Area.Region())
		area += float64(piece.Demand) * union.Area()
	}
	return 100 * area / (p.Sheet.WidthMM * l.LengthMM)
}

// load reads a set: its strip runs along x there and along y here.
func load(t testing.TB, name string) (p irregular.Problem, scale float64) {
	t.Helper()
	data, err := os.ReadFile(reference.Path(t, "benchmarks", "nesting", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var set struct {
		Height float64 `json:"strip_height"`
		Items  []struct {
			Demand int       `json:"demand"`
			Turns  []float64 `json:"allowed_orientations"`
			Shape  struct {
				Data [][2]float64 `json:"data"`
			} `json:"shape"`
		} `json:"items"`
	}
	if err := json.Unmarshal(data, &set); err != nil {
		t.Fatal(err)
	}
	scale = 1
	for set.Height*scale > 1000 {
		scale /= 10
	}
	p.Sheet.WidthMM = set.Height * scale
	for _, it := range set.Items {
		var ring []geometry.Point
		for _, c := range it.Shape.Data {
			ring = append(ring, geometry.Pt(-c[1]*scale, c[0]*scale))
		}
		piece := irregular.Piece{Area: planar.Polygons{{Outer: ring}}, Demand: it.Demand}
		for _, d := range it.Turns {
			piece.Turns = append(piece.Turns, irregular.Turn{Degrees: d})
		}
		p.Pieces = append(p.Pieces, piece)
	}
	return p, scale
}

// processorTime is what this process has used so far, in s.
func processorTime(t testing.TB) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return float64(u.Utime.Sec) + float64(u.Utime.Usec)/1e6
}
