package weeding_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// The height that counts is that of the letters: not of a plate round them, of
// their counters, of the dot of an i, or of a full stop.
func TestHeightOfLetters(t *testing.T) {
	plate := func(a *artwork.Artwork, by float64) *artwork.Artwork {
		a.Strokes = append(a.Strokes, artwork.Stroke{Path: a.Bounds.Grow(by).Path(), Operation: artwork.KissCut, Shape: len(a.Strokes)})
		return a
	}
	x := goBold(t, 20, "x").Bounds.Height()
	b := goBold(t, 20, "B").Bounds.Height()
	i := goBold(t, 20, "i").Bounds.Height()
	for name, c := range map[string]struct {
		art  *artwork.Artwork
		want float64
	}{
		"capitals":              {goBold(t, 20, "BH"), b},
		"capitals and x":        {goBold(t, 20, "BxBHx"), x},
		"a stop":                {goBold(t, 20, "BBB."), b},
		"dots over stems":       {goBold(t, 20, "iii"), i},
		"cut out of a plate":    {plate(goBold(t, 20, "BHBH"), 30), b},
		"on a ground in a band": {plate(plate(goBold(t, 20, "BHBH"), 30), 40), b},
		"letters joined in one piece": {func() *artwork.Artwork {
			a := &artwork.Artwork{}
			for k := range 5 {
				at := geometry.Pt(28*float64(k), 0)
				a.Strokes = append(a.Strokes,
					artwork.Stroke{Path: geometry.Circle(at, 15), Operation: artwork.KissCut, Shape: k},
					artwork.Stroke{Path: geometry.Circle(at, 8), Operation: artwork.KissCut, Shape: k})
			}
			a.Bounds = bounds(a)
			return a
		}(), 30},
		"one letter, two counters": {goBold(t, 20, "B"), b},
		"a bar and no letter":      {drawn(t, "M0 0H40V1.2H0Z"), 0},
		"letters over a bar": {func() *artwork.Artwork {
			a := goBold(t, 20, "BHBH")
			bar := geometry.BoxAround(geometry.Pt(0, -9), geometry.Pt(60, -2)).Path()
			a.Strokes = append(a.Strokes, artwork.Stroke{Path: bar, Operation: artwork.KissCut, Shape: len(a.Strokes)})
			a.Bounds = bounds(a)
			return a
		}(), b},
	} {
		m := chart(t, c.art, weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Weld: true})
		if got := m.Effort.LeastHeightMM; math.Abs(got-c.want) > 0.02*c.want {
			t.Errorf("%s: %.3f mm, want %.3f", name, got, c.want)
		}
	}
	m := chart(t, goBold(t, 20, "B"), weeding.Request{Purpose: weeding.Pieces, Stock: card})
	if m.Effort.LeastHeightMM != 0 || m.Effort.Difficulty != 1 {
		t.Errorf("pieces have letters of %g mm, D %g", m.Effort.LeastHeightMM, m.Effort.Difficulty)
	}
}

// Regions that share an edge touch, both ways; those that share a corner or
// nothing do not.
func TestTouches(t *testing.T) {
	m := chart(t, drawn(t, outer, inner, leaf, vein), weeding.Request{Purpose: weeding.Lettering, Stock: card})
	for i, want := range [][]int{{2}, {1, 3}, {2, 4}, {3}} {
		if !slices.Equal(m.Regions[i].Touches, want) {
			t.Errorf("region %d touches %v, want %v", i+1, m.Regions[i].Touches, want)
		}
	}
	m = chart(t, drawn(t, "M0 0H10V10H0Z", "M10 0H20V10H10Z", "M20 10H30V20H20Z"), weeding.Request{Purpose: weeding.Pieces, Stock: card})
	for _, r := range m.Regions {
		alone := r.Outer.Bounds().Min == geometry.Pt(20, 10)
		if alone != (len(r.Touches) == 0) {
			t.Errorf("region at %v touches %v", r.Outer.Bounds().Min, r.Touches)
		}
	}
	m = chart(t, goBold(t, 200, "Salt"), weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true})
	for _, r := range m.Regions {
		if len(r.Touches) == 0 {
			t.Errorf("%s %d touches nothing", r.Class, r.Number)
		}
		for _, n := range r.Touches {
			if !slices.Contains(m.Regions[n-1].Touches, r.Number) {
				t.Errorf("%d touches %d but not the other way", r.Number, n)
			}
		}
	}
}
