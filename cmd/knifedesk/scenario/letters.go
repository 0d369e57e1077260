package scenario

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"knifedesk/geometry"
)

// Letters returns the outlines of text in the bold Go face, its capitals
// cap mm high, the first glyph's origin at (x, y).
func Letters(text string, x, y, cap float64) []geometry.Path {
	face, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		panic("scenario: the Go face does not parse: " + err.Error()) // it is part of the program
	}
	const em = fixed.Int26_6(2048 << 6)
	var buf sfnt.Buffer
	capHeight := glyphHeight(face, &buf, 'H', em)
	k := cap / capHeight
	var out []geometry.Path
	pen := 0.0
	for _, r := range text {
		gi, err := face.GlyphIndex(&buf, r)
		if err != nil || gi == 0 {
			continue
		}
		segs, err := face.LoadGlyph(&buf, gi, em, nil)
		if err != nil {
			continue
		}
		m := geometry.Scale(k, -k).Then(geometry.Translate(x+pen*k, y)) // glyphs are y down
		for _, p := range contours(segs) {
			out = append(out, p.Transform(m))
		}
		if adv, err := face.GlyphAdvance(&buf, gi, em, font.HintingNone); err == nil {
			pen += float64(adv) / 64
		}
	}
	return out
}

func glyphHeight(face *sfnt.Font, buf *sfnt.Buffer, r rune, em fixed.Int26_6) float64 {
	gi, err := face.GlyphIndex(buf, r)
	if err != nil {
		return 1
	}
	segs, err := face.LoadGlyph(buf, gi, em, nil)
	if err != nil {
		return 1
	}
	b := geometry.EmptyBox()
	for _, p := range contours(segs) {
		b = b.Union(p.Bounds())
	}
	return b.Height()
}

// contours turns glyph segments into closed paths, y down as they come.
func contours(segs sfnt.Segments) []geometry.Path {
	at := func(p fixed.Point26_6) geometry.Point { return geometry.Pt(float64(p.X)/64, float64(p.Y)/64) }
	var out []geometry.Path
	var cur geometry.Path
	flush := func() {
		if len(cur.Segments) > 0 {
			cur.Close()
			out = append(out, cur)
		}
	}
	for _, s := range segs {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			flush()
			cur = geometry.Path{Start: at(s.Args[0])}
		case sfnt.SegmentOpLineTo:
			cur.Segments = append(cur.Segments, geometry.LineTo(at(s.Args[0])))
		case sfnt.SegmentOpQuadTo:
			from, c, to := cur.End(), at(s.Args[0]), at(s.Args[1])
			cur.Segments = append(cur.Segments, geometry.CubicTo(from.Lerp(c, 2.0/3), to.Lerp(c, 2.0/3), to))
		case sfnt.SegmentOpCubeTo:
			cur.Segments = append(cur.Segments, geometry.CubicTo(at(s.Args[0]), at(s.Args[1]), at(s.Args[2])))
		}
	}
	flush()
	return out
}

// centred moves paths so that the middle of their box is at (x, y).
func centred(paths []geometry.Path, x, y float64) []geometry.Path {
	b := geometry.EmptyBox()
	for _, p := range paths {
		b = b.Union(p.Bounds())
	}
	c := b.Centre()
	out := make([]geometry.Path, len(paths))
	for i, p := range paths {
		out[i] = p.Transform(geometry.Translate(x-c.X, y-c.Y))
	}
	return out
}
