package planar_test

import (
	"runtime"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/geometry/planar/internal/sets"
)

// TestContainersAndSources nests squares: 0 to 20 holds 2 to 8 and 10 to 18,
// which holds 12 to 16; one side of the outermost is drawn three times.
func TestContainersAndSources(t *testing.T) {
	var lines []planar.Line
	for i, s := range [][2]float64{{0, 20}, {2, 6}, {10, 8}, {12, 4}} {
		for _, l := range squareLines(s[0], s[0], s[1]) {
			l.Source = int32(i)
			lines = append(lines, l)
		}
	}
	lines = append(lines, planar.Line{A: geometry.Pt(20, 0), B: geometry.Pt(0, 0), Source: 7},
		planar.Line{A: geometry.Pt(5, 0), B: geometry.Pt(15, 0), Source: 8})
	m, err := planar.Arrange(nil, lines)
	if err != nil {
		t.Fatal(err)
	}
	checkRings(t, m)
	if m.Components() != 4 || len(m.Faces) != 5 {
		t.Fatalf("%d parts and %d faces, expected 4 and 5", m.Components(), len(m.Faces))
	}
	at := func(x float64) int32 { return m.FaceAt(nil, geometry.Pt(x, x)) }
	containers := m.Containers()
	for _, c := range []struct {
		x, area float64
		in      int32
		holes   int
	}{{1, 400 - 36 - 64, 0, 2}, {3, 36, at(1), 0}, {11, 64 - 16, at(1), 1}, {13, 16, at(11), 0}} {
		f := at(c.x)
		if m.Faces[f].Area != c.area || containers[f] != c.in || len(m.Holes(f)) != c.holes {
			t.Errorf("at %g: face %d, area %g, in %d, %d holes; expected %+v", c.x, f, m.Faces[f].Area, containers[f], len(m.Holes(f)), c)
		}
	}
	for i := range m.Edges {
		mid := m.Point(m.Edges[i].From).Lerp(m.Point(m.Edges[i].To), 0.5)
		want, turns := []int32{0}, 1
		if mid.Y == 0 {
			if want, turns = []int32{0, 7}, 0; mid.X == 10 {
				want, turns = []int32{0, 7, 8}, 1
			}
		} else if mid.X > 20 || mid.X > 0 && mid.X < 20 && mid.Y < 20 {
			continue
		}
		got := m.Sources(int32(i))
		if !slices.Equal(got, want) || m.Turns(int32(i)) != turns && m.Turns(int32(i)) != -turns {
			t.Errorf("edge at %v: sources %v, turns %d, expected %v, ±%d", mid, got, m.Turns(int32(i)), want, turns)
		}
	}
}

// TestOrderOfLinesDoesNotMatter compares the maps of lines forward and
// backward by what is the same in both.
func TestOrderOfLinesDoesNotMatter(t *testing.T) {
	lines := slices.Concat(hatch(40, 1, 0.7), hatch(40, 0.2, -1), spiral(200, 30))
	m, err := planar.Arrange(nil, lines)
	if err != nil {
		t.Fatal(err)
	}
	slices.Reverse(lines)
	n, err := planar.Arrange(nil, lines)
	if err != nil {
		t.Fatal(err)
	}
	a, b := facts(m), facts(n)
	a.length, b.length, a.area, b.area = 0, 0, 0, 0 // summed in another order
	if a != b {
		t.Errorf("%+v and %+v", a, b)
	}
}

// TestProcessorsDoNotMatter compares the maps made on one processor and on
// several, to the last vertex, edge, source and ring.
func TestProcessorsDoNotMatter(t *testing.T) {
	lines := setLines(sets.Generate("random", 40_000, 3))
	arrange := func(processors int) *planar.Map {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
		m, err := planar.Arrange(nil, lines)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	m, n := arrange(1), arrange(4)
	if !slices.Equal(m.Edges, n.Edges) || !slices.Equal(m.Faces, n.Faces) || m.NumRings() != n.NumRings() {
		t.Fatal("edges, faces or rings differ")
	}
	for v := range int32(m.NumVertices()) {
		if m.Point(v) != n.Point(v) {
			t.Fatalf("vertex %d differs", v)
		}
	}
	for e := range int32(len(m.Edges)) {
		if !slices.Equal(m.Sources(e), n.Sources(e)) {
			t.Fatalf("sources of edge %d differ", e)
		}
	}
	for r := range planar.Ring(m.NumRings()) {
		if !slices.Equal(m.HalfEdges(r), n.HalfEdges(r)) {
			t.Fatalf("ring %d differs", r)
		}
	}
}
