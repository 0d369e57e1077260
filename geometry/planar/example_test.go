package planar_test

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// A square with a line through it, and a loose end.
func ExampleArrange() {
	p := geometry.Pt
	m, err := planar.Arrange(nil, []planar.Line{
		{A: p(0, 0), B: p(10, 0), Source: 1},
		{A: p(10, 0), B: p(10, 10), Source: 1},
		{A: p(10, 10), B: p(0, 10), Source: 1},
		{A: p(0, 10), B: p(0, 0), Source: 1},
		{A: p(4, -2), B: p(4, 10), Source: 2},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for f := 1; f < len(m.Faces); f++ {
		fmt.Println("face", f, "area", m.Faces[f].Area, m.Points(m.Faces[f].Outer))
	}
	for i, e := range m.Edges {
		if e.Role == planar.Dangling {
			fmt.Println("loose end", m.Point(e.From), m.Point(e.To), "of", m.Sources(int32(i)))
		}
	}
	// Output:
	// face 1 area 40 [{0 0} {4 0} {4 10} {0 10}]
	// face 2 area 60 [{4 0} {10 0} {10 10} {4 10}]
	// loose end {4 -2} {4 0} of [2]
}

// Two overlapping squares weld into one outline.
func ExampleUnion() {
	square := func(x, y float64) planar.Region {
		b := geometry.Box{Min: geometry.Pt(x, y), Max: geometry.Pt(x+10, y+10)}.Corners()
		return planar.Region{Rings: [][]geometry.Point{b[:]}}
	}
	welded, err := planar.Union(nil, square(0, 0), square(5, 5))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(welded), welded.Area(), len(welded[0].Outer))
	// Output: 1 175 8
}
