package planar_test

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/planar"
)

// TestPublishedPolygonising runs the cases of JTS's PolygonizerTest.
func TestPublishedPolygonising(t *testing.T) {
	var file struct {
		Cases []struct {
			Name      string   `json:"name"`
			Polygonal bool     `json:"polygonal_only"`
			Lines     []string `json:"lines"`
			Want      []string `json:"expect_polygons"`
		} `json:"cases"`
	}
	readJSON(t, "polygonize.json", &file)
	for _, c := range file.Cases {
		t.Run(c.Name, func(t *testing.T) {
			p := published{t: t, name: c.Name, op: "polygonize", scale: planar.PerMM / 8}
			var lines []planar.Line
			p.fit()
			for _, text := range c.Lines {
				_, l, _ := p.parts(p.geometry(strings.Replace(text, "))", ")", 1)))
				lines = append(lines, l...)
			}
			m, err := planar.Arrange(nil, lines)
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Euler(); err != nil {
				t.Error(err)
			}
			p.want = "GEOMETRYCOLLECTION EMPTY"
			if len(c.Want) > 0 {
				p.want = "GEOMETRYCOLLECTION (" + strings.Join(c.Want, ",") + ")"
			}
			faces := facePolygons(m)
			if c.Polygonal { // a choice of faces that share no side: not an operation of ours
				areas, _, _ := p.parts(p.geometry(p.want))
				faces = slices.DeleteFunc(faces, func(f planar.Polygon) bool {
					return !slices.ContainsFunc(areas, func(a planar.Region) bool { return sameCorners(a.Rings[0], f.Outer) })
				})
			}
			p.compare(faces)
		})
	}
}

func readJSON(t *testing.T, name string, into any) {
	text, err := os.ReadFile(reference.Path(t, "benchmarks", "overlay", name))
	if err == nil {
		err = json.Unmarshal(text, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// TestPublishedSnapRounding runs the cases of JTS's SnapRoundingNoderTest.
func TestPublishedSnapRounding(t *testing.T) {
	var file struct {
		Cases []struct {
			Name  string  `json:"name"`
			Lines string  `json:"wkt"`
			Scale float64 `json:"scale"`
			Want  *string `json:"expect_noded_wkt"`
		} `json:"cases"`
	}
	readJSON(t, "snap_rounding.json", &file)
	for _, c := range file.Cases {
		t.Run(c.Name, func(t *testing.T) {
			p := published{t: t, name: c.Name, scale: c.Scale}
			p.fit()
			_, lines, _ := p.parts(p.geometry(c.Lines))
			for i := range lines {
				lines[i].Source = int32(i)
			}
			m, err := planar.Arrange(nil, lines)
			if err != nil {
				t.Fatal(err)
			}
			checkMap(t, lines, m)
			if reason, ok := onPurpose[c.Name]; ok {
				t.Log("only checked to be properly noded: " + reason)
				return
			}
			if c.Want == nil {
				return
			}
			_, want, _ := p.parts(p.geometry(*c.Want))
			edges := map[[2]gridPoint]bool{}
			for _, l := range want {
				a, b := onGrid(l.A), onGrid(l.B)
				edges[[2]gridPoint{a, b}], edges[[2]gridPoint{b, a}] = true, true
			}
			for _, e := range m.Edges {
				if !edges[[2]gridPoint{onGrid(m.Point(e.From)), onGrid(m.Point(e.To))}] {
					t.Errorf("edge %v–%v is not expected", onGrid(m.Point(e.From)), onGrid(m.Point(e.To)))
				}
			}
			if 2*len(m.Edges) != len(edges) {
				t.Errorf("%d edges, expected %d", len(m.Edges), len(edges)/2)
			}
		})
	}
}
