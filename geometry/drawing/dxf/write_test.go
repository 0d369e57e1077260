package dxf_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/reference"
)

func parse(t testing.TB, data string) []geometry.Path {
	t.Helper()
	paths, err := geometry.ParsePathData(data)
	if err != nil {
		t.Fatal(err)
	}
	return paths
}

func write(t testing.TB, units dxf.Units, layers ...dxf.Layer) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := dxf.Write(&b, units, layers...); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// drawPath draws a path of lines and arcs, or of lines and cubics, no two of
// its corners the same.
func drawPath(t *rapid.T) geometry.Path {
	number := rapid.Float64Range(-1000, 1000)
	n := 0.0
	point := func() geometry.Point {
		n++
		return geometry.Pt(n*3000+number.Draw(t, "x"), number.Draw(t, "y"))
	}
	curved := rapid.Bool().Draw(t, "curved")
	p := geometry.Path{Start: point()}
	for range rapid.IntRange(2, 6).Draw(t, "segments") {
		switch {
		case rapid.Bool().Draw(t, "straight"):
			p.Segments = append(p.Segments, geometry.LineTo(point()))
		case curved:
			p.Segments = append(p.Segments, geometry.CubicTo(point(), point(), point()))
		default:
			p.Segments = append(p.Segments, geometry.ArcTo(rapid.Float64Range(0.01, 1).Draw(t, "bulge"), point()))
		}
	}
	if rapid.Bool().Draw(t, "closed") {
		p.Close()
	}
	return p
}

// TestRoundTrip: what is written reads back the same. Lines beside cubics come
// back as straight cubics.
func TestRoundTrip(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		p := drawPath(t)
		var b bytes.Buffer
		colour := drawing.RGB(uint8(rapid.Byte().Draw(t, "r")), 7, 200)
		if err := dxf.Write(&b, dxf.Inches, dxf.Layer{Name: "Ritz–Linie 切", Colour: colour, Paths: []geometry.Path{p}}); err != nil {
			t.Fatal(err)
		}
		d, err := dxf.Read(t.Context(), &b, dxf.Options{})
		if err != nil || len(d.Shapes) != 1 {
			t.Fatalf("%v, %d shapes", err, len(d.Shapes))
		}
		s := d.Shapes[0]
		want := p
		if s.Source.Kind == "SPLINE" {
			want = allCubic(p)
		}
		if diff := cmp.Diff(want, s.Paths[0]); diff != "" {
			t.Fatal(diff)
		}
		if s.Layer != "Ritz–Linie 切" || *s.Stroke != *colour || d.Unit.MM != 25.4 || len(d.Notes) > 0 {
			t.Fatalf("layer %q, colour %v, unit %v, notes %v", s.Layer, s.Stroke, d.Unit, d.Notes)
		}
	})
}

func allCubic(p geometry.Path) geometry.Path {
	q := geometry.Path{Start: p.Start, Closed: p.Closed}
	from := p.Start
	for _, s := range p.Segments {
		q.Segments = append(q.Segments, asCubic(from, s))
		from = s.End
	}
	return q
}

// TestArcsBesideCubics: one contour stays one entity, its arcs as cubics.
func TestArcsBesideCubics(t *testing.T) {
	p := parse(t, "M0 0C10 20 30 20 40 0A20 20 0 0 1 0 0Z")[0]
	d, err := dxf.Read(t.Context(), bytes.NewReader(write(t, dxf.Millimetres, dxf.Layer{Paths: []geometry.Path{p}})), dxf.Options{})
	if err != nil || len(d.Shapes) != 1 {
		t.Fatalf("%v, %v", err, d)
	}
	got := d.Shapes[0].Paths[0]
	if !got.Closed || !near(got.Length(), p.Length(), 1e-5) || !near(got.Area(), p.Area(), 1e-3) {
		t.Errorf("closed %v, length %v, area %v; want %v, %v", got.Closed, got.Length(), got.Area(), p.Length(), p.Area())
	}
}

func TestWriteRefusesNoNumbers(t *testing.T) {
	p := geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(math.NaN(), 1))
	if err := dxf.Write(&bytes.Buffer{}, dxf.Millimetres, dxf.Layer{Name: "L", Paths: []geometry.Path{p}}); err == nil {
		t.Error("a path with NaN was written")
	}
}

// sample is a file with one of everything that Write makes.
func sample(t testing.TB) string {
	t.Helper()
	lines := parse(t, "M0 0L100 0L100 50L0 50Z M5 5L8 9 M20 20L30 20A5 5 0 0 1 30 30L20 30Z")
	curves := parse(t, "M0 60C20 90 80 90 100 60")
	data := write(t, dxf.Millimetres,
		dxf.Layer{Name: "CUT", Colour: drawing.RGB(255, 0, 0), Paths: append(lines, geometry.Circle(geometry.Pt(70, 25), 10))},
		dxf.Layer{Name: "score/fold", Colour: drawing.RGB(0, 80, 160), Paths: curves})
	path := filepath.Join(t.TempDir(), "sample.dxf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestOthersReadOurs has two independent readers open what Write made. The
// first samples curves and finds 82.48 for the true top of 82.5.
func TestOthersReadOurs(t *testing.T) {
	path := sample(t)
	out, err := exec.Command(reference.Tool(t, "ogrinfo"), "-al", path).CombinedOutput()
	if err != nil {
		t.Fatalf("ogrinfo: %v\n%s", err, out)
	}
	for _, want := range []string{"Feature Count: 5", "(0.000000, 0.000000) - (100.000000, 82.4", "AcDbSpline", "= CUT", "= score_fold", "c:#0050a0"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("ogrinfo does not show %q:\n%s", want, out)
		}
	}
	out, err = exec.Command(reference.Tool(t, "ezdxf"), "audit", path).CombinedOutput()
	if err != nil || !strings.Contains(string(out), "No errors found") {
		t.Errorf("ezdxf: %v\n%s", err, out)
	}
}
