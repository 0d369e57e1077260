package weeding_test

import (
	"testing"

	"golang.org/x/image/font/gofont/gobold"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/glyph"
	"knifedesk/jobs/artwork"
)

// face sets words in the outlines of a font, y up, in mm.
type face struct {
	*glyph.Face
	emMM float64
}

func newFace(t testing.TB, data []byte, emMM float64) face {
	t.Helper()
	f, err := glyph.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	return face{f, emMM}
}

// word returns one closed path for each contour of each letter, with the
// number of the letter that it belongs to.
func (f face) word(t testing.TB, text string, at geometry.Point) (paths []geometry.Path, letter []int) {
	t.Helper()
	paths, letter, err := f.Word(text, f.emMM)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range paths {
		paths[i] = p.Transform(geometry.Translate(at.X, at.Y))
	}
	return paths, letter
}

// lettering returns artwork of the words, one line below the other, each
// letter a shape of its own; fill may be empty.
func (f face) lettering(t testing.TB, fill drawing.FillRule, lines ...string) *artwork.Artwork {
	t.Helper()
	a := &artwork.Artwork{}
	shape := 0
	for i, line := range lines {
		paths, letter := f.word(t, line, geometry.Pt(0, -1.4*f.emMM*float64(i)))
		for k, p := range paths {
			a.Strokes = append(a.Strokes, artwork.Stroke{Path: p, Operation: artwork.KissCut, Shape: shape + letter[k], Fill: fill})
		}
		shape += len([]rune(line))
	}
	a.Bounds = bounds(a)
	return a
}

func bounds(a *artwork.Artwork) geometry.Box {
	b := geometry.EmptyBox()
	for _, s := range a.Strokes {
		b = b.Union(s.Path.Bounds())
	}
	return b
}

// goBold sets lines in the bold Go font, unfilled.
func goBold(t testing.TB, em float64, lines ...string) *artwork.Artwork {
	t.Helper()
	return newFace(t, gobold.TTF, em).lettering(t, "", lines...)
}
