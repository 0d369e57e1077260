package planar_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

func TestArrangeTwoSquares(t *testing.T) {
	var lines []planar.Line
	square := func(x, y, s float64, src int32) {
		c := []geometry.Point{{x, y}, {x + s, y}, {x + s, y + s}, {x, y + s}}
		for i := range c {
			lines = append(lines, planar.Line{c[i], c[(i+1)%4], src})
		}
	}
	square(0, 0, 10, 1)
	square(5, 5, 10, 2)
	square(6, 6, 2, 3)
	square(20, 20, 10, 3)
	square(21, 21, 2, 4)
	square(23, 23, 2, 4)
	square(30, 30, 2, 4)
	lines = append(lines, planar.Line{geometry.Pt(20, 20), geometry.Pt(21, 21), 9}, planar.Line{geometry.Pt(0, 5), geometry.Pt(-1, 5), 9})
	m, err := planar.Arrange(lines)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range m.Faces {
		t.Log(i, f, m.Holes(int32(i)))
	}
	for i, e := range m.Edges {
		t.Log(i, m.Point(e.From), m.Point(e.To), e, m.Sources(int32(i)))
	}
	if err := m.Euler(); err != nil {
		t.Fatal(err)
	}
	t.Log(m.Containers(), m.FaceAt(geometry.Pt(6.1, 6.1)), m.FaceAt(geometry.Pt(22, 22)), m.FaceAt(geometry.Pt(100, 22)))
}
