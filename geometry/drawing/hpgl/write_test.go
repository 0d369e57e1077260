package hpgl_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/hpgl"
	"knifedesk/geometry/geometrytest/reference"

	"github.com/google/go-cmp/cmp"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"
)

func paths(t testing.TB, data ...string) []geometry.Path {
	t.Helper()
	var all []geometry.Path
	for _, d := range data {
		p, err := geometry.ParsePathData(d)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p...)
	}
	return all
}

func write(t testing.TB, pens ...hpgl.Pen) string {
	t.Helper()
	var b bytes.Buffer
	if err := hpgl.Write(&b, hpgl.Page{}, pens); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// read is a small reader of what the writer uses: the lines of each pen in
// plotter units, and the speeds.
func read(t interface{ Fatalf(string, ...any) }, text string) (lines map[int][][]geometry.Point, speeds map[int]int) {
	lines, speeds = map[int][][]geometry.Point{}, map[int]int{}
	pen, at := 0, geometry.Point{}
	for instruction := range strings.SplitSeq(strings.ReplaceAll(text, "\n", ""), ";") {
		if instruction == "" {
			continue
		}
		var numbers []int
		for f := range strings.SplitSeq(instruction[2:], ",") {
			if f == "" {
				continue
			}
			n, err := strconv.Atoi(f)
			if err != nil {
				t.Fatalf("%q: %v", instruction, err)
			}
			numbers = append(numbers, n)
		}
		switch name := instruction[:2]; name {
		case "IN":
		case "FS":
		case "SP":
			pen = numbers[0]
		case "VS":
			speeds[pen] = numbers[0]
		case "PU", "PD":
			for i := 0; i+1 < len(numbers); i += 2 {
				to := geometry.Pt(float64(numbers[i]), float64(numbers[i+1]))
				if name == "PU" {
					lines[pen] = append(lines[pen], []geometry.Point{to})
				} else {
					last := len(lines[pen]) - 1
					lines[pen][last] = append(lines[pen][last], to)
				}
				at = to
			}
		default:
			t.Fatalf("instruction %q at %v", instruction, at)
		}
	}
	return lines, speeds
}

// Check values, row 7: A4 is 8400 × 11880 plotter units.
func TestA4InPlotterUnits(t *testing.T) {
	text := write(t, hpgl.Pen{Number: 1, Paths: paths(t, "M0 0L210 0L210 297L0 297Z")})
	want := "IN;\nSP1;\nPU0,0;\nPD8400,0,8400,11880,0,11880,0,0;\nPU;\nSP0;\n"
	if diff := cmp.Diff(want, text); diff != "" {
		t.Error(diff)
	}
}

func TestPensAndSpeedsInOrder(t *testing.T) {
	text := write(t,
		hpgl.Pen{Number: 2, SpeedMMS: 25, Paths: paths(t, "M1 1L2 1")},
		hpgl.Pen{Number: 1, SpeedMMS: 10, Force: 7, Paths: paths(t, "M3 1L4 1", "M5 1L5 1.005", "M6 1L7 1")})
	lines, speeds := read(t, text)
	if len(lines[2]) != 1 || len(lines[1]) != 2 || speeds[2] != 2 || speeds[1] != 1 {
		t.Errorf("lines %v, speeds %v", lines, speeds)
	}
	if strings.Index(text, "SP2") > strings.Index(text, "SP1") {
		t.Error("pens out of order")
	}
	if strings.Count(text, "FS") != 1 || !strings.Contains(text, "SP1;\nVS1;\nFS7;\n") {
		t.Errorf("the force is not that of its pen:\n%s", text)
	}
}

// VS counts whole cm/s (HP-GL/2, from memory), so it cannot say 8 mm/s; 10 mm/s
// would be faster than was tested, and so would what the pen before left.
func TestSpeedsBelowWhatCanBeSaid(t *testing.T) {
	text := write(t, hpgl.Pen{Number: 1, SpeedMMS: 100, Paths: paths(t, "M1 1L2 1")}, hpgl.Pen{Number: 2, SpeedMMS: 8, Paths: paths(t, "M1 1L2 1")})
	if strings.Contains(text, "VS") {
		t.Errorf("a speed is said:\n%s", text)
	}
	for mms, want := range map[float64]float64{8: 8, 9.99: 9.99, 10: 10, 25: 20, 130: 130, 2000: 1270, 0: 0} {
		if got := hpgl.Speed(mms); got != want {
			t.Errorf("%g mm/s is said as %g, want %g", mms, got, want)
		}
	}
}

// The page stands in the file as its two corners in plotter units.
func TestPageOfTheFile(t *testing.T) {
	var b bytes.Buffer
	if err := hpgl.Write(&b, hpgl.Page{Max: geometry.Pt(210, 297)}, nil); err != nil || !strings.HasPrefix(b.String(), "IN;\nIP0,0,8400,11880;\n") {
		t.Errorf("%v, %q", err, b.String())
	}
	var far *hpgl.RangeError
	if err := hpgl.Write(&b, hpgl.Page{Max: geometry.Pt(1e6, 1)}, nil); !errors.As(err, &far) {
		t.Errorf("a page of a kilometre: %v", err)
	}
}

func nearestUnit(p geometry.Point) geometry.Point {
	return geometry.Pt(math.Round(p.X*hpgl.UnitsPerMM), math.Round(p.Y*hpgl.UnitsPerMM))
}

// Every vertex comes back within half a unit on each axis, every curve within
// the chord tolerance besides. Points that round to one unit leave no line.
func TestRoundTrip(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-500, 500)
		point := func() geometry.Point { return geometry.Pt(coord.Draw(t, "x"), coord.Draw(t, "y")) }
		p := geometry.Path{Start: point()}
		for range rapid.IntRange(1, 8).Draw(t, "segments") {
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				p.Segments = append(p.Segments, geometry.LineTo(point()))
			case 1:
				bulge := rapid.Float64Range(0.001, 1).Draw(t, "bulge")
				p.Segments = append(p.Segments, geometry.ArcTo(bulge*float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "sign")), point()))
			default:
				p.Segments = append(p.Segments, geometry.CubicTo(point(), point(), point()))
			}
		}
		var b bytes.Buffer
		if err := hpgl.Write(&b, hpgl.Page{}, []hpgl.Pen{{Number: 1, Paths: []geometry.Path{p}}}); err != nil {
			t.Fatal(err)
		}
		lines, _ := read(t, b.String())
		vertices := p.Flatten(hpgl.ChordMM)
		if !slices.ContainsFunc(vertices, func(v geometry.Point) bool { return nearestUnit(v) != nearestUnit(vertices[0]) }) {
			if len(lines[1]) != 0 {
				t.Fatalf("%d lines of points that are one unit", len(lines[1]))
			}
			return
		}
		if len(lines[1]) != 1 {
			t.Fatalf("%d lines", len(lines[1]))
		}
		got := lines[1][0]
		i := 0
		for _, v := range vertices {
			for i < len(got) && !(math.Abs(got[i].X/hpgl.UnitsPerMM-v.X) <= 0.0125001 && math.Abs(got[i].Y/hpgl.UnitsPerMM-v.Y) <= 0.0125001) {
				i++
			}
			if i == len(got) {
				t.Fatalf("vertex %v is missing", v)
			}
		}
	})
}

func TestWhatDoesNotFit(t *testing.T) {
	var far *hpgl.RangeError
	for _, p := range []geometry.Point{geometry.Pt(300_000, 0), geometry.Pt(0, math.NaN()), geometry.Pt(math.Inf(-1), 0)} {
		err := hpgl.Write(&bytes.Buffer{}, hpgl.Page{}, []hpgl.Pen{{Number: 1, Paths: []geometry.Path{geometry.Polyline(geometry.Pt(0, 0), p)}}})
		if !errors.As(err, &far) {
			t.Errorf("%v: error %v", p, err)
		}
	}
	if err := hpgl.Write(&bytes.Buffer{}, hpgl.Page{}, []hpgl.Pen{{Number: 0}}); err == nil {
		t.Error("pen 0 was taken")
	}
	if err := hpgl.Write(broken{}, hpgl.Page{}, []hpgl.Pen{{Number: 1}}); err == nil {
		t.Error("the writer's error was lost")
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("full") }

// An independent reader of the format draws the file at the same size: a
// 120 × 80 frame with a circle in it.
func TestIndependentRenderer(t *testing.T) {
	tool := reference.Tool(t, "hp2xx")
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.plt"), filepath.Join(dir, "out.svg")
	circle := geometry.Circle(geometry.Pt(60, 40), 30)
	text := write(t,
		hpgl.Pen{Number: 1, Paths: paths(t, "M0 0L120 0L120 80L0 80Z")},
		hpgl.Pen{Number: 2, SpeedMMS: 50, Paths: []geometry.Path{circle}})
	if err := os.WriteFile(in, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command(tool, "-q", "-t", "-m", "svg", "-f", out, in).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, msg)
	}
	drawn, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	// The renderer writes points, 72 to the inch, and y down.
	const pt = 72 / 25.4
	got := drawnBox(t, drawn)
	want := geometry.Box{Max: geometry.Pt(120*pt, 80*pt)}
	if got.Min.Dist(want.Min) > 0.01 || got.Max.Dist(want.Max) > 0.01 {
		t.Errorf("drawn %v pt, want %v", got, want)
	}
	ring := geometry.EmptyBox()
	for _, p := range paths(t, drawnPaths(t, drawn)[1:]...) { // the frame is the first
		ring = ring.Union(p.Bounds())
	}
	if at, r := ring.Centre(), ring.Width()/2; at.Dist(geometry.Pt(60*pt, 40*pt)) > 0.05 || math.Abs(r-30*pt) > 0.05 {
		t.Errorf("circle of %g pt about %v", r, at)
	}
}

// drawnPaths returns the path data of the rendered lines, in order.
func drawnPaths(t *testing.T, drawn []byte) []string {
	t.Helper()
	var svg struct {
		Groups []struct {
			Paths []struct {
				D string `xml:"d,attr"`
			} `xml:"path"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(drawn, &svg); err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, g := range svg.Groups {
		for _, p := range g.Paths {
			all = append(all, p.D)
		}
	}
	if len(all) < 2 {
		t.Fatalf("%d paths drawn, want two or more", len(all))
	}
	return all
}

func drawnBox(t *testing.T, drawn []byte) geometry.Box {
	box := geometry.EmptyBox()
	for _, p := range paths(t, drawnPaths(t, drawn)...) {
		box = box.Union(p.Bounds())
	}
	return box
}

func BenchmarkWrite(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10000} {
		b.Run(fmt.Sprintf("circles=%d", n), func(b *testing.B) {
			pen := hpgl.Pen{Number: 1}
			for i := range n {
				pen.Paths = append(pen.Paths, geometry.Circle(geometry.Pt(float64(i%100)*5, float64(i/100)*5), 2))
			}
			var out bytes.Buffer
			for b.Loop() {
				out.Reset()
				if err := hpgl.Write(&out, hpgl.Page{}, []hpgl.Pen{pen}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// By hand, in units of 0.025 mm: a half disc of radius 10 about (20 0), whose chords of
// 5 µm span 3.62°, run anticlockwise, and back; an arc that begins the line, one after
// another; chords where the centre lies between two units, where half a degree strays
// by more than 5 µm, which is over 525 mm, and where arcs are not wanted.
func TestArcsStayArcs(t *testing.T) {
	half := geometry.Path{Start: geometry.Pt(10, 0), Segments: []geometry.Segment{geometry.LineTo(geometry.Pt(30, 0)), geometry.ArcTo(1, geometry.Pt(10, 0))}, Closed: true}
	curved := geometry.Path{Start: geometry.Pt(30, 0), Segments: []geometry.Segment{geometry.ArcTo(-1, geometry.Pt(10, 0)), geometry.ArcTo(1, geometry.Pt(0, 0)), geometry.LineTo(geometry.Pt(0, 5))}}
	for _, c := range []struct {
		name string
		pen  hpgl.Pen
		want string
	}{
		{"a half disc", hpgl.Pen{Arcs: true, Paths: []geometry.Path{half}}, "PU400,0;PD1200,0;AA800,0,180.0000,3.62;"},
		{"from its start", hpgl.Pen{Arcs: true, Paths: []geometry.Path{curved}}, "PU1200,0;PD;AA800,0,-180.0000,3.62;AA200,0,180.0000,5.00;PD0,200;"},
	} {
		c.pen.Number = 1
		if got := strings.ReplaceAll(write(t, c.pen), "\n", ""); got != "IN;SP1;"+c.want+"PU;SP0;" {
			t.Errorf("%s: %s", c.name, got)
		}
	}
	between := half.Transform(geometry.Translate(0.01, 0))
	for name, pen := range map[string]hpgl.Pen{
		"a centre between units": {Arcs: true, Paths: []geometry.Path{between}}, "a large arc": {Arcs: true, Paths: []geometry.Path{half.Transform(geometry.Scale(60, 60))}},
		"not wanted": {Paths: []geometry.Path{half}},
	} {
		pen.Number = 1
		if got := write(t, pen); strings.Contains(got, "AA") || strings.Count(got, ",") < 20 {
			t.Errorf("%s: %.200s", name, got)
		}
	}
}
