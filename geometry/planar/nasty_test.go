package planar_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// line returns a line between grid points.
func line(x1, y1, x2, y2 int64, source int) planar.Line {
	at := func(x, y int64) geometry.Point {
		return geometry.Pt(float64(x)/planar.PerMM, float64(y)/planar.PerMM)
	}
	return planar.Line{A: at(x1, y1), B: at(x2, y2), Source: int32(source)}
}

// nastyLines draws lines that are close to degenerate for a grid of 0.1 µm.
func nastyLines(t *rapid.T) []planar.Line {
	var lines []planar.Line
	add := func(x1, y1, x2, y2 int64) { lines = append(lines, line(x1, y1, x2, y2, len(lines))) }
	within := func(r int64) int64 { return rapid.Int64Range(-r, r).Draw(t, "c") }
	const far = 499_999_000
	for range rapid.IntRange(1, 30).Draw(t, "lines") {
		switch rapid.IntRange(0, 6).Draw(t, "kind") {
		case 0: // a few grid steps long
			add(within(6), within(6), within(6), within(6))
		case 1: // a sliver from far away through the same few pixels
			add(within(4)-far, within(4)-far, within(4)+far-8, within(4)+far-8)
		case 2: // a steep sliver
			add(within(4), -far, within(4), far)
		case 3: // almost parallel to the axis
			add(-far, within(2), far, within(2))
		case 4: // through a lattice of middling size
			add(within(40), within(40), within(40), within(40))
		case 5: // grazes corners of pixels: slope of exactly one half or one
			x, y, k := within(20), within(20), within(20)
			add(x, y, x+2*k, y+k)
			add(x, y+1, x+k, y+1-k)
		case 6: // a fan
			add(within(1), within(1), within(far), within(far))
		}
	}
	return lines
}

func TestNastyLinesMakeProperMaps(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		lines := nastyLines(t)
		m, err := planar.Arrange(nil, lines)
		if err != nil {
			t.Fatal(err)
		}
		checkMap(t, lines, m)
	})
}

// TestNodingTwice arranges the edges of a map again. Vertices may come closer
// to edges than half a step, so snapping may bend edges on; the map stays proper.
func TestNodingTwice(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		m, err := planar.Arrange(nil, nastyLines(t))
		if err != nil {
			t.Fatal(err)
		}
		var again []planar.Line
		for i, e := range m.Edges {
			again = append(again, planar.Line{A: m.Point(e.From), B: m.Point(e.To), Source: int32(i)})
		}
		n, err := planar.Arrange(nil, again)
		if err != nil {
			t.Fatal(err)
		}
		checkMap(t, again, n)
	})
}

// TestFaceAt asks for the faces of points on no edge.
func TestFaceAt(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		var lines []planar.Line
		at := rapid.Int64Range(0, 60)
		for i := range rapid.IntRange(1, 60).Draw(t, "lines") {
			x, y := at.Draw(t, "x"), at.Draw(t, "y")
			lines = append(lines, line(x, y, x+rapid.Int64Range(-9, 9).Draw(t, "dx"), y+rapid.Int64Range(-9, 9).Draw(t, "dy"), i))
		}
		m, err := planar.Arrange(nil, lines)
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			p := line(at.Draw(t, "x"), at.Draw(t, "y"), 0, 0, 0).A
			want, on := faceOf(m, p)
			if got := m.FaceAt(nil, p); !on && got != want {
				t.Errorf("%v is in face %d, not %d", p, want, got)
			}
		}
	})
}

// faceOf tries all faces; on says that p lies on an edge.
func faceOf(m *planar.Map, p geometry.Point) (face int32, on bool) {
	for i := range m.Edges {
		a, b := onGrid(m.Point(m.Edges[i].From)), onGrid(m.Point(m.Edges[i].To))
		if q := onGrid(p); side(a, b, q) == 0 && (a == q || b == q || between(a, b, q)) {
			return 0, true
		}
	}
	for f := int32(1); f < int32(len(m.Faces)); f++ {
		turns, _ := winding(m.Points(m.Faces[f].Outer), p)
		for _, r := range m.Holes(f) {
			w, _ := winding(m.Points(r), p)
			turns += w
		}
		if turns == 1 {
			return f, false
		}
	}
	return 0, false
}

// TestShapesInShapes nests many small parts, in columns and rows, so that
// some are placed by the near look and some by the sweep.
func TestShapesInShapes(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		var lines []planar.Line
		for range rapid.IntRange(1, 150).Draw(t, "shapes") {
			x, y := rapid.Int64Range(0, 12).Draw(t, "x")*40, rapid.Int64Range(0, 12).Draw(t, "y")*40
			r := rapid.SampledFrom([]int64{1, 3, 7, 12, 25, 70, 200}).Draw(t, "r")
			for _, l := range [][4]int64{{-r, 0, 0, -r}, {0, -r, r, 0}, {r, 0, 0, r}, {0, r, -r, 0}} {
				lines = append(lines, line(x+l[0], y+l[1], x+l[2], y+l[3], len(lines)))
			}
		}
		m, err := planar.Arrange(nil, lines)
		if err != nil {
			t.Fatal(err)
		}
		if err := m.Euler(); err != nil {
			t.Error(err)
		}
		checkRings(t, m)
		checkNesting(t, m)
	})
}

func TestDegenerateInputs(t *testing.T) {
	cases := map[string][]planar.Line{
		"nothing":            nil,
		"a point":            {line(5, 5, 5, 5, 0)},
		"one line":           {line(0, 0, 10, 3, 0)},
		"one line, 5 times":  {line(0, 0, 10, 3, 0), line(10, 3, 0, 0, 1), line(0, 0, 10, 3, 2), line(0, 0, 10, 3, 3), line(0, 0, 10, 3, 4)},
		"upright lines":      {line(0, 0, 0, 9, 0), line(0, 3, 0, 14, 1), line(0, 20, 0, 15, 2)},
		"level lines":        {line(0, 0, 9, 0, 0), line(3, 0, 14, 0, 1), line(20, 0, 15, 0, 2)},
		"a star of 40 lines": star(40),
		"the whole extent":   {line(-5e8, -5e8, 5e8, 5e8, 0), line(-5e8, 5e8, 5e8, -5e8, 1), line(-5e8, -5e8, 5e8, -5e8, 2)},
	}
	for name, lines := range cases {
		t.Run(name, func(t *testing.T) {
			m, err := planar.Arrange(nil, lines)
			if err != nil {
				t.Fatal(err)
			}
			checkMap(t, lines, m)
		})
	}
}

// star returns lines through one point and its neighbours.
func star(n int) []planar.Line {
	var lines []planar.Line
	for i := range n {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
		x, y := int64(1e8*cos), int64(1e8*sin)
		lines = append(lines, line(-x, -y, x, y, i))
	}
	return lines
}

// TestSmallGridExhaustive arranges every pair and triple of a set of lines in
// a few pixels, where every rule about borders of pixels comes to bear.
func TestSmallGridExhaustive(t *testing.T) {
	var all []planar.Line
	const side = 4
	for i := range int64(side * side) {
		for j := range i {
			all = append(all, line(i%side, i/side, j%side, j/side, 0))
		}
	}
	for i := range all {
		for j := range i {
			for k := range j {
				if (i+7*j+13*k)%29 != 0 && testing.Short() {
					continue
				}
				lines := []planar.Line{all[i], all[j], all[k]}
				for s := range lines {
					lines[s].Source = int32(s)
				}
				m, err := planar.Arrange(nil, lines)
				if err != nil {
					t.Fatal(err)
				}
				checkMap(t, lines, m)
				if t.Failed() {
					t.Fatal(fmt.Sprint(lines))
				}
			}
		}
	}
}
