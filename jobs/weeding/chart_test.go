package weeding_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// film and card are the stocks of the tests, with the default limits.
var (
	film = workshop.Stock{Family: workshop.RemovableFilm, Form: workshop.Roll, Liner: true, Limits: workshop.DefaultLimits()}
	card = workshop.Stock{Family: workshop.LightCard, Form: workshop.Sheet, Limits: workshop.DefaultLimits()}
)

// drawn returns artwork whose strokes are the given SVG path data, one shape
// for each string.
func drawn(t testing.TB, data ...string) *artwork.Artwork {
	t.Helper()
	a := &artwork.Artwork{}
	for i, d := range data {
		paths, err := geometry.ParsePathData(d)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range paths {
			a.Strokes = append(a.Strokes, artwork.Stroke{Path: p, Operation: artwork.KissCut, Shape: i})
		}
	}
	a.Bounds = bounds(a)
	return a
}

// chart maps the artwork, and checks Euler's formula on the kernel's map of the
// finished strokes.
func chart(t testing.TB, a *artwork.Artwork, req weeding.Request) *weeding.Map {
	t.Helper()
	m, err := weeding.Chart(a, req)
	if err != nil {
		t.Fatal(err)
	}
	faces, err := planar.Arrange(nil, flat(m.Strokes))
	if err != nil {
		t.Fatal(err)
	}
	if err := faces.Euler(); err != nil {
		t.Error(err)
	}
	return m
}

// classes counts the regions of a map by class.
func classes(m *weeding.Map) map[weeding.Class]int {
	n := map[weeding.Class]int{}
	for _, r := range m.Regions {
		n[r.Class]++
	}
	return n
}

const (
	outer  = "M0 0H100V100H0Z"
	inner  = "M10 10H90V90H10Z"
	leaf   = "M20 20H80V80H20Z"
	vein   = "M40 40H60V60H40Z"
	letter = "M0 0H10V10H0Z"
)

// The nest check of the design: a label, its inner edge, a leaf in it, a hole
// in the leaf are kept, removed, kept, removed; one outline drawn twice
// changes nothing.
func TestNestedOutlinesAlternate(t *testing.T) {
	want := []weeding.Class{weeding.Kept, weeding.Ground, weeding.Kept, weeding.Counter}
	for name, data := range map[string][]string{
		"four nested outlines":   {outer, inner, leaf, vein},
		"in another order":       {vein, leaf, outer, inner},
		"the inner edge twice":   {outer, inner, inner, leaf, vein},
		"the outer twice":        {outer, outer, inner, leaf, vein},
		"the leaf run backwards": {outer, inner, leaf, "M20 20V80H80V20Z", vein},
	} {
		m := chart(t, drawn(t, data...), weeding.Request{Purpose: weeding.Lettering, Stock: card})
		if len(m.Regions) != len(want) {
			t.Fatalf("%s: %d regions, want %d", name, len(m.Regions), len(want))
		}
		for i, r := range m.Regions {
			if r.Class != want[i] || r.Depth != i+1 || r.Number != i+1 {
				t.Errorf("%s: region %d is %s at depth %d, want %s at %d", name, r.Number, r.Class, r.Depth, want[i], i+1)
			}
		}
	}
}

// Check values, row 46: squares of 100, 80 and 60 mm, nested, keep 7200 mm²
// and remove 2800 mm² inside.
func TestAreasOfNestedSquares(t *testing.T) {
	m := chart(t, drawn(t, outer, inner, leaf), weeding.Request{Purpose: weeding.Lettering, Stock: film})
	kept, removed := 0.0, 0.0
	for _, r := range m.Regions {
		if r.Kept() {
			kept += r.AreaMM2
		} else {
			removed += r.AreaMM2
		}
	}
	if math.Abs(kept-7200) > 1e-6 || math.Abs(removed-2800) > 1e-6 {
		t.Errorf("kept %.6f and removed %.6f mm², want 7200 and 2800", kept, removed)
	}
}

// Check values, row 45: the word BOARD, unframed, has 5 kept regions and 6
// counters; with the outside that makes 12 faces.
func TestBoardHasFiveKeptAndSixCounters(t *testing.T) {
	a := goBold(t, 30, "BOARD")
	m := chart(t, a, weeding.Request{Purpose: weeding.Lettering, Stock: film})
	n := classes(m)
	if n[weeding.Kept] != 5 || n[weeding.Counter] != 6 || len(m.Regions) != 11 {
		t.Errorf("kept %d, counters %d of %d regions, want 5, 6 of 11", n[weeding.Kept], n[weeding.Counter], len(m.Regions))
	}
	faces, err := planar.Arrange(nil, flat(a.Strokes))
	if err != nil {
		t.Fatal(err)
	}
	if len(faces.Faces) != 12 {
		t.Errorf("%d faces, want 12", len(faces.Faces))
	}
}

// flat returns the cut strokes as lines for the kernel.
func flat(strokes []artwork.Stroke) []planar.Line {
	var lines []planar.Line
	for i, s := range strokes {
		if !s.Operation.Cuts() {
			continue
		}
		pts := s.Path.Flatten(geometry.DefaultChord)
		for k := 1; k < len(pts); k++ {
			lines = append(lines, planar.Line{A: pts[k-1], B: pts[k], Source: int32(i)})
		}
	}
	return lines
}
