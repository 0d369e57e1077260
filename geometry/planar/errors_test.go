package planar_test

import (
	"errors"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

func TestArrangeRefuses(t *testing.T) {
	p, nan := geometry.Pt, math.NaN()
	good := planar.Line{A: p(0, 0), B: p(1, 1)}
	cases := []struct {
		name string
		bad  planar.Line
		want error
	}{
		{"not a number", planar.Line{A: p(0, nan), B: p(1, 1)}, planar.ErrNotFinite},
		{"infinite", planar.Line{A: p(0, 0), B: p(math.Inf(-1), 1)}, planar.ErrNotFinite},
		{"wider than 100 m", planar.Line{A: p(-1, 0), B: p(100_001, 1)}, planar.ErrExtent},
		{"beyond whole numbers", planar.Line{A: p(1e300, 0), B: p(1e300, 1)}, planar.ErrExtent},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := planar.Arrange(nil, []planar.Line{good, c.bad})
			var where *planar.LineError
			if !errors.Is(err, c.want) || !errors.As(err, &where) {
				t.Fatalf("error %v, expected %v", err, c.want)
			}
			if c.want == planar.ErrNotFinite && where.Line != 1 {
				t.Errorf("line %d, expected 1", where.Line)
			}
		})
	}
}

// TestFarDrawingsKeepTheirPlace arranges a square at survey coordinates, which
// lies within 50 m of an origin of its own.
func TestFarDrawingsKeepTheirPlace(t *testing.T) {
	const x, y = 4_512_345_678.125, -5_398_765_432.5
	lines := squareLines(x, y, 100)
	m, err := planar.Arrange(nil, append(lines, planar.Line{A: geometry.Pt(x-1, y+50), B: geometry.Pt(x+101, y+50)}))
	if err != nil {
		t.Fatal(err)
	}
	if err := m.Euler(); err != nil {
		t.Error(err)
	}
	if len(m.Faces) != 3 || m.Faces[1].Area != 5000 || m.Faces[2].Area != 5000 {
		t.Errorf("faces %+v", m.Faces)
	}
	if f := m.FaceAt(nil, geometry.Pt(x+50, y+75)); f == 0 || m.FaceAt(nil, geometry.Pt(x+50, y+25)) == f {
		t.Errorf("the upper half is face %d", f)
	}
}
