package weeding_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
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

// The lowest letter is found line by line: stops, commas, quotes, apostrophes and
// accents are none, in whatever line they stand, nor do tails count; small letters
// and small lines are, wherever they stand. Heights are those of the glyphs.
func TestLowestLetterByLines(t *testing.T) {
	height := func(em float64, text string) float64 { return goBold(t, em, text).Bounds.Height() }
	for _, c := range []struct {
		name string
		art  *artwork.Artwork
		want float64
	}{
		{"commas and a stop", goBold(t, 20, "HE, HI, HO."), height(20, "H")},
		{"two letters and a comma", goBold(t, 20, "I,"), height(20, "I")},
		{"small letters alone, with commas", goBold(t, 20, "nun, xen, mm."), height(20, "x")},
		{"apostrophes", goBold(t, 20, "IT'S MA’AM"), height(20, "I")},
		{"quotes", goBold(t, 20, "\"HI\" “HI”"), height(20, "H")},
		{"accents", goBold(t, 20, "ÉTÉ ÖL"), height(20, "T")},
		{"accents on all letters", goBold(t, 20, "ÄÖÜ"), height(20, "H")},
		{"an accent over each of two lines of them", stack(t, 20, "ÉÈ", 30, "ŽŠ"), height(20, "E")},
		{"accents on small letters", goBold(t, 20, "éàü"), height(20, "x")},
		{"hyphens and colons", goBold(t, 20, "A-B: C; D"), height(20, "A")},
		{"tails", goBold(t, 20, "gypsum"), height(20, "x")},
		{"two lines, the commas of the large one higher than nothing else", stack(t, 60, "NO, NO", 20, "HAHA"), height(20, "H")},
		{"two lines, the small one below", stack(t, 40, "BIG", 10, "HELP"), height(10, "H")},
		{"small text beside a heading", beside(goBold(t, 60, "BIG"), 8, 0, goBold(t, 12, "nun")), height(12, "x")},
		{"one raised letter beside a heading", beside(goBold(t, 60, "BIG"), 4, 28, goBold(t, 20, "o")), height(20, "o")},
		{"two low letters on the line of a heading", beside(goBold(t, 60, "BIG"), 4, 0, goBold(t, 20, "co")), height(20, "o")},
		{"one low ring on the line of a heading, a mark", beside(goBold(t, 60, "HIT"), 4, 0, goBold(t, 20, "o")), height(60, "H")},
		{"one letter and one low ring, a mark", beside(goBold(t, 60, "H"), 4, 0, goBold(t, 20, "o")), height(60, "H")},
		{"raised letters beside a heading", beside(goBold(t, 60, "BIG"), 4, 28, goBold(t, 20, "TM")), height(20, "T")},
	} {
		m := chart(t, c.art, weeding.Request{Purpose: weeding.Lettering, Stock: film, Weld: true})
		if got := m.Effort.LeastHeightMM; math.Abs(got-c.want) > 0.04*c.want {
			t.Errorf("%s: %.3f mm, want %.3f", c.name, got, c.want)
		}
	}
}

// beside sets more work to the right of some.
func beside(a *artwork.Artwork, by, up float64, more *artwork.Artwork) *artwork.Artwork {
	at := geometry.Translate(a.Bounds.Max.X+by, up)
	for _, s := range more.Strokes {
		s.Path, s.Shape = s.Path.Transform(at), len(a.Strokes)
		a.Strokes = append(a.Strokes, s)
	}
	a.Bounds = bounds(a)
	return a
}

// stack sets one line above another of another size.
func stack(t *testing.T, em float64, line string, em2 float64, line2 string) *artwork.Artwork {
	t.Helper()
	a, below := goBold(t, em, line), goBold(t, em2, line2)
	for _, s := range below.Strokes {
		s.Path, s.Shape = s.Path.Transform(geometry.Translate(0, -0.4*em-em2)), len(a.Strokes)
		a.Strokes = append(a.Strokes, s)
	}
	a.Bounds = bounds(a)
	return a
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

// Tilted lettering is as high as upright lettering, and its low letters are told where
// they lie. Upright and slanted letters stay what they are. Source: the same letters,
// upright.
func TestHeightOfTiltedLetters(t *testing.T) {
	request := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Weld: true}
	tell := func(a *artwork.Artwork) (float64, []geometry.Box) {
		m := chart(t, a, request)
		var at []geometry.Box
		for _, f := range m.Findings {
			if f.Code == finding.LetterCare || f.Code == finding.LetterExpert {
				for _, p := range f.Places {
					at = append(at, p.Box)
				}
			}
		}
		return m.Effort.LeastHeightMM, at
	}
	for _, text := range []string{"HELLO", "TIDE, MILL", "Harbour", "BxBHx", "it's"} {
		upright, _ := tell(goBold(t, 12, text))
		turns := []float64{-40, -17, -3, 8.3, 30, 44}
		if len(text) > 5 || text == "HELLO" { // enough of it is equally high to tell a quarter turn
			turns = append(turns, 90, -90, 60, 133, 72.4, -117)
		}
		for _, degrees := range turns {
			a := turnedBy(degrees, goBold(t, 12, text))
			got, at := tell(a)
			if math.Abs(got-upright) > 0.03*upright {
				t.Errorf("%s turned by %g°: %.3f mm, upright %.3f", text, degrees, got, upright)
			}
			for _, b := range at {
				if !a.Bounds.Contains(b.Centre()) {
					t.Errorf("%s turned by %g°: a letter at %v, work at %v", text, degrees, b, a.Bounds)
				}
			}
		}
		a := goBold(t, 12, text)
		for i := range a.Strokes {
			a.Strokes[i].Path = a.Strokes[i].Path.Transform(geometry.Affine{A: 1, C: 0.21, D: 1}) // slanted by 12°
		}
		a.Bounds = bounds(a)
		if got, _ := tell(a); math.Abs(got-upright) > 0.03*upright {
			t.Errorf("%s slanted: %.3f mm, upright %.3f", text, got, upright)
		}
	}
}

// turnedBy turns lettering about the origin.
func turnedBy(degrees float64, a *artwork.Artwork) *artwork.Artwork {
	turn := geometry.Rotate(degrees * math.Pi / 180)
	for i := range a.Strokes {
		a.Strokes[i].Path = a.Strokes[i].Path.Transform(turn)
	}
	a.Bounds = bounds(a)
	return a
}

// Lines that run different ways in one drawing are each measured along themselves, and
// what is stacked or set in columns stays upright. Source: each line by itself.
func TestLinesRunDifferentWays(t *testing.T) {
	least := func(a *artwork.Artwork) float64 {
		return chart(t, a, weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Weld: true}).Effort.LeastHeightMM
	}
	side := least(goBold(t, 9, "TIDE MILL"))
	for _, degrees := range []float64{90, -90, 23, -61, 180} {
		note := turnedBy(degrees, goBold(t, 9, "TIDE MILL"))
		both := beside(goBold(t, 30, "FERRY"), 40-note.Bounds.Min.X, 5, note)
		if got := least(both); math.Abs(got-side) > 0.03*side {
			t.Errorf("a note at %g°: %.3f mm, alone %.3f", degrees, got, side)
		}
	}
	for name, a := range map[string]*artwork.Artwork{
		"columns":     rows(t, "HIHE", "hnhn", "nhnh"),
		"two lines":   stack(t, 9, "TIDE MILL", 9, "FERRY LANE"),
		"ten lines":   rows(t, "TIDE", "MILE", "TOLD", "TELL", "IDLE", "LIED", "DELL", "EDIT", "TILE", "DIET"),
		"letters":     rows(t, "T", "I", "D", "E", "M", "I", "L", "L"),
		"small print": rows(t, "until it dries", "till it is tilled", "filled, lidded"),
	} {
		if got, want := least(a), least(goBold(t, 9, "n")); got > least(goBold(t, 9, "I"))*1.03 || got < want*0.95 {
			t.Errorf("%s: %.3f mm, letters of %.3f to %.3f", name, got, want, least(goBold(t, 9, "I")))
		}
	}
}

// rows sets lines of one size under each other.
func rows(t *testing.T, lines ...string) *artwork.Artwork {
	t.Helper()
	a := goBold(t, 9, lines[0])
	for n, line := range lines[1:] {
		for _, s := range goBold(t, 9, line).Strokes {
			s.Path, s.Shape = s.Path.Transform(geometry.Translate(0, -10.5*float64(n+1))), len(a.Strokes)
			a.Strokes = append(a.Strokes, s)
		}
	}
	a.Bounds = bounds(a)
	return a
}

// Letters set round a circle run all ways, and are not measured as if they were tilted as a
// third of them are. Source: the lowest of their boxes, worked out here.
func TestLettersRoundACircle(t *testing.T) {
	ring := &artwork.Artwork{}
	lowest := math.Inf(1)
	for k := range 12 {
		one := goBold(t, 40, "L")
		for i := range one.Strokes {
			one.Strokes[i].Path = one.Strokes[i].Path.Transform(geometry.Translate(150, 0))
		}
		one = turnedBy(15+30*float64(k), one)
		lowest = math.Min(lowest, one.Bounds.Height())
		for _, s := range one.Strokes {
			s.Shape = len(ring.Strokes)
			ring.Strokes = append(ring.Strokes, s)
		}
	}
	ring.Bounds = bounds(ring)
	m := chart(t, ring, weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Weld: true})
	if got := m.Effort.LeastHeightMM; math.Abs(got-lowest) > 0.001 {
		t.Errorf("%.3f mm, their boxes are %.3f high", got, lowest)
	}
}
