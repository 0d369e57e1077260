package tour_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/tour"
)

// Sequential ordering instances of TSPLIB 95 with costs that are the same both
// ways, as travel has them: each number in the lists has to come after others.
// The bounds are the best known value of prob.42 (closed), and that of prob.100
// plus 3 per cent, as listed with the reference material.
func TestOrdersKeepToPrecedence(t *testing.T) {
	for _, c := range []struct {
		file string
		most float64
	}{{"prob.42.sop", 243}, {"prob.100.sop", 1198}} {
		t.Run(c.file, func(t *testing.T) {
			after, table := readSOP(t, c.file)
			order, total := tour.Sequence(after, table, 40*tour.KicksMost)
			t.Logf("%g, at most %g", total, c.most)
			if total > c.most {
				t.Errorf("order of %g, at most %g", total, c.most)
			}
			all := slices.Sorted(slices.Values(order))
			if len(all) != len(after)-1 || all[0] != 1 || len(slices.Compact(all)) != len(after)-1 {
				t.Fatalf("not all but the first are in the order, and once: %v", order)
			}
			at, sum := 0, 0.0
			for _, next := range order {
				sum += table[at][next]
				at = next
			}
			if sum != total {
				t.Errorf("the order costs %g, not %g", sum, total)
			}
			for i := range after {
				for _, later := range after[i] {
					if i > 0 && slices.Index(order, i) > slices.Index(order, later) {
						t.Fatalf("%d comes after %d", i, later)
					}
				}
			}
		})
	}
}

// readSOP reads which numbers come after each, and what going from one to
// another costs; -1 at (i, j) means that j comes before i.
func readSOP(t *testing.T, file string) (after [][]int, table [][]float64) {
	t.Helper()
	text, err := os.ReadFile(reference.Path(t, "benchmarks", "sop", file))
	if err != nil {
		t.Fatal(err)
	}
	_, matrix, _ := strings.Cut(string(text), "EDGE_WEIGHT_SECTION")
	fields := strings.Fields(matrix)
	n := int(number(t, fields[0]))
	after, table = make([][]int, n), make([][]float64, n)
	for i := range n {
		for j := range n {
			v := number(t, fields[1+i*n+j])
			if v < 0 {
				after[j] = append(after[j], i)
				v = number(t, fields[1+j*n+i]) // the way that is allowed
			}
			table[i] = append(table[i], v)
		}
	}
	return after, table
}
