package weed_test

import (
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/drawing"
)

// face sets words in the outlines of a font, y up, in mm.
type face struct {
	font  *sfnt.Font
	emMM  float64
	units fixed.Int26_6
}

func newFace(t testing.TB, data []byte, emMM float64) face {
	t.Helper()
	f, err := sfnt.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	return face{font: f, emMM: emMM, units: fixed.Int26_6(f.UnitsPerEm()) << 6}
}

// word returns one closed path for each contour of each letter, with the
// number of the letter that it belongs to.
func (f face) word(t testing.TB, text string, at geometry.Point) (paths []geometry.Path, letter []int) {
	t.Helper()
	var buf sfnt.Buffer
	x := 0.0
	for i, r := range []rune(text) {
		g, err := f.font.GlyphIndex(&buf, r)
		if err != nil || g == 0 {
			t.Fatalf("no glyph for %q: %v", r, err)
		}
		segs, err := f.font.LoadGlyph(&buf, g, f.units, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range f.contours(segs, at.Add(geometry.Pt(x, 0))) {
			paths, letter = append(paths, p), append(letter, i)
		}
		adv, err := f.font.GlyphAdvance(&buf, g, f.units, font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		x += float64(adv) / float64(f.units) * f.emMM
	}
	return paths, letter
}

// contours turns segments, which are y down in 1/64 of a font unit, into paths.
func (f face) contours(segs sfnt.Segments, at geometry.Point) []geometry.Path {
	pt := func(p fixed.Point26_6) geometry.Point {
		s := f.emMM / float64(f.units)
		return at.Add(geometry.Pt(float64(p.X)*s, -float64(p.Y)*s))
	}
	var paths []geometry.Path
	var cur geometry.Path
	end := func() {
		if len(cur.Segments) > 0 {
			cur.Close()
			paths = append(paths, cur)
		}
	}
	for _, s := range segs {
		from := cur.End()
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			end()
			cur = geometry.Path{Start: pt(s.Args[0])}
		case sfnt.SegmentOpLineTo:
			cur.Segments = append(cur.Segments, geometry.LineTo(pt(s.Args[0])))
		case sfnt.SegmentOpQuadTo:
			c, q := pt(s.Args[0]), pt(s.Args[1])
			cur.Segments = append(cur.Segments, geometry.CubicTo(from.Lerp(c, 2.0/3), q.Lerp(c, 2.0/3), q))
		case sfnt.SegmentOpCubeTo:
			cur.Segments = append(cur.Segments, geometry.CubicTo(pt(s.Args[0]), pt(s.Args[1]), pt(s.Args[2])))
		}
	}
	end()
	return paths
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
