package planar_test

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/planar"
	"knifedesk/geometry/planar/internal/sets"
)

// setLines turns a generated set into lines numbered in order.
func setLines(segments []sets.Segment) []planar.Line {
	lines := make([]planar.Line, len(segments))
	for i, s := range segments {
		at := func(k int) float64 { return float64(s[k]) / planar.PerMM }
		lines[i] = planar.Line{A: geometry.Pt(at(0), at(1)), B: geometry.Pt(at(2), at(3)), Source: int32(i)}
	}
	return lines
}

// speedsRow is a row of the table of peers/SPEEDS.md: what GEOS 3.11.1 found.
type speedsRow struct {
	kind                                     string
	n, edges, faces, holed, dangles, bridges int
	area, length                             float64
	sum                                      string
}

func speedsRows(t testing.TB) []speedsRow {
	text, err := os.ReadFile(reference.Path(t, "peers", "SPEEDS.md"))
	if err != nil {
		t.Fatal(err)
	}
	sums := map[string]string{}
	for _, m := range regexp.MustCompile(`\* (\w+ \d+): ([0-9a-f]{64})`).FindAllStringSubmatch(string(text), -1) {
		sums[m[1]] = m[2]
	}
	var rows []speedsRow
	for line := range strings.Lines(string(text)) {
		cell := strings.Split(line, "|")
		if len(cell) < 13 {
			continue
		}
		number := func(i int) float64 {
			v, _ := strconv.ParseFloat(strings.TrimSpace(cell[i]), 64)
			return v
		}
		kind := strings.TrimSpace(cell[1])
		sum, ok := sums[fmt.Sprintf("%s %.0f", kind, number(2))]
		if !ok {
			continue
		}
		rows = append(rows, speedsRow{kind: kind, n: int(number(2)), edges: int(number(5)), faces: int(number(6)),
			holed: int(number(7)), area: number(8), dangles: int(number(9)), bridges: int(number(10)), length: number(11), sum: sum})
	}
	if len(rows) != 12 {
		t.Fatalf("%d rows read from SPEEDS.md, expected 12", len(rows))
	}
	return rows
}

// facts are what the table of SPEEDS.md says of a map.
func facts(m *planar.Map) (r speedsRow) {
	r.edges, r.faces, r.length = len(m.Edges), len(m.Faces)-1, m.Length()
	for _, e := range m.Edges {
		switch e.Role {
		case planar.Dangling:
			r.dangles++
		case planar.Cut:
			r.bridges++
		}
	}
	for f := 1; f < len(m.Faces); f++ {
		r.area += m.Faces[f].Area
		if len(m.Holes(int32(f))) > 0 {
			r.holed++
		}
	}
	return r
}

// TestSetsAgreeWithGEOS compares with the table of peers/SPEEDS.md: the grid
// sets exactly, the others within 10⁻⁵ of the area and 0.5 % of the faces,
// since crossings are rounded differently (to the grid here, to float64 there).
func TestSetsAgreeWithGEOS(t *testing.T) {
	for _, want := range speedsRows(t) {
		if testing.Short() && want.n > 10_000 {
			continue
		}
		t.Run(fmt.Sprintf("%s/%d", want.kind, want.n), func(t *testing.T) {
			segments := sets.Generate(want.kind, want.n, 7)
			h := sha256.New()
			if err := binary.Write(h, binary.LittleEndian, segments); err != nil {
				t.Fatal(err)
			}
			if sum := fmt.Sprintf("%x", h.Sum(nil)); sum != want.sum {
				t.Fatalf("the generated set has check sum %s, expected %s", sum, want.sum)
			}
			m, err := planar.Arrange(nil, setLines(segments))
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Euler(); err != nil {
				t.Error(err)
			}
			got := facts(m)
			t.Logf("ours %+v", got)
			t.Logf("GEOS %+v", want)
			if want.kind == "grid" {
				got.kind, got.n, got.sum = want.kind, want.n, want.sum
				got.area, got.length = math.Round(got.area*1e6)/1e6, math.Round(got.length*1e6)/1e6
				if got != want {
					t.Error("the grid set must agree exactly")
				}
				return
			}
			if math.Abs(got.area-want.area) > 1e-5*want.area {
				t.Errorf("area %.6f, GEOS %.6f", got.area, want.area)
			}
			if math.Abs(float64(got.faces-want.faces)) > 0.005*float64(want.faces) {
				t.Errorf("%d faces, GEOS %d", got.faces, want.faces)
			}
		})
	}
}
