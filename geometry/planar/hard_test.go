package planar_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// hardSets are drawings that spoil the balance of a method that cuts the
// plane into strips.
var hardSets = []struct {
	name string
	make func(n int) []planar.Line
}{
	{"slanted hatch", func(n int) []planar.Line { return hatch(n, 1, 1) }},
	{"steep hatch", func(n int) []planar.Line { return hatch(n, 0.3, 1) }},
	{"upright hatch", func(n int) []planar.Line { return hatch(n, 0, 1) }},
	{"level hatch", func(n int) []planar.Line { return hatch(n, 1, 0) }},
	{"crossed hatch", func(n int) []planar.Line {
		k := int(math.Sqrt(float64(n)))
		return append(hatch(k, 1, 1), hatch(k, 1, -1)...)
	}},
	{"star", func(n int) []planar.Line { return star(int(math.Sqrt(float64(n)))) }},
	{"lettering in a corner of a large sheet", func(n int) []planar.Line {
		lines := spiral(n-4, 3)
		return append(lines, frame(5000)...)
	}},
	{"spiral", func(n int) []planar.Line { return spiral(n, 300) }},
	{"row of squares in a frame", func(n int) []planar.Line {
		lines := frame(float64(n))
		for i := range n / 4 {
			lines = append(lines, squareLines(float64(i), 1, 0.5)...)
		}
		return lines
	}},
	{"column of squares in a frame", func(n int) []planar.Line {
		lines := frame(float64(n))
		for i := range n / 4 {
			lines = append(lines, squareLines(1, float64(i), 0.5)...)
		}
		return lines
	}},
	{"nested squares", func(n int) []planar.Line {
		var lines []planar.Line
		for i := range n / 4 {
			r := float64(i+1) / 100
			lines = append(lines, squareLines(-r, -r, 2*r)...)
		}
		return lines
	}},
	{"one line many times", func(n int) []planar.Line {
		lines := make([]planar.Line, n)
		for i := range lines {
			lines[i] = planar.Line{A: geometry.Pt(0, 0), B: geometry.Pt(100, 30), Source: int32(i)}
		}
		return lines
	}},
}

func hatch(n int, dx, dy float64) []planar.Line {
	lines := make([]planar.Line, n)
	for i := range lines {
		x, y := 500*dy*float64(i)/float64(n), -500*dx*float64(i)/float64(n)
		lines[i] = planar.Line{A: geometry.Pt(x, y), B: geometry.Pt(x+300*dx, y+300*dy)}
	}
	return lines
}

func spiral(n int, radius float64) []planar.Line {
	lines := make([]planar.Line, n)
	at := func(i int) geometry.Point {
		sin, cos := math.Sincos(float64(i) / math.Sqrt(float64(n)))
		r := radius * float64(i+1) / float64(n)
		return geometry.Pt(r*cos, r*sin)
	}
	for i := range lines {
		lines[i] = planar.Line{A: at(i), B: at(i + 1)}
	}
	return lines
}

func frame(size float64) []planar.Line { return squareLines(-5, -5, size+10) }

func squareLines(x, y, size float64) []planar.Line {
	corners := geometry.Box{Min: geometry.Pt(x, y), Max: geometry.Pt(x+size, y+size)}.Corners()
	lines := make([]planar.Line, 4)
	for i := range lines {
		lines[i] = planar.Line{A: corners[i], B: corners[(i+1)%4]}
	}
	return lines
}

func TestHardSetsAreProper(t *testing.T) {
	for _, set := range hardSets {
		t.Run(set.name, func(t *testing.T) {
			lines := set.make(400)
			for i := range lines {
				lines[i].Source = int32(i)
			}
			m, err := planar.Arrange(nil, lines)
			if err != nil {
				t.Fatal(err)
			}
			checkMap(t, lines, m)
		})
	}
}

func BenchmarkHardSets(b *testing.B) {
	for _, set := range hardSets {
		for _, n := range []int{10_000, 40_000} {
			b.Run(set.name+"/"+fmt.Sprint(n), func(b *testing.B) {
				lines := set.make(n)
				for b.Loop() {
					m, err := planar.Arrange(nil, lines)
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(len(m.Edges)), "edges")
				}
			})
		}
	}
}
