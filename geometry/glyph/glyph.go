// Package glyph turns the letters of a font into paths: real outlines, as a
// drawing program makes them when it converts text to curves.
package glyph

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"knifedesk/geometry"
)

// Face is a font whose outlines can be had. It is not safe for use by several
// goroutines.
type Face struct {
	font  *sfnt.Font
	units fixed.Int26_6 // of the em
	buf   sfnt.Buffer
}

// Parse reads a TrueType or OpenType font.
func Parse(data []byte) (*Face, error) {
	f, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("glyph: %w", err)
	}
	return &Face{font: f, units: fixed.Int26_6(f.UnitsPerEm()) << 6}, nil
}

// Word sets text on the baseline from the origin, its em emMM mm, y up: one
// closed path for each contour, and the number of the letter it belongs to. It
// fails on a letter that the font lacks.
func (f *Face) Word(text string, emMM float64) (paths []geometry.Path, letter []int, err error) {
	scale := emMM / float64(f.units)
	pen := 0.0
	for i, r := range []rune(text) {
		g, err := f.font.GlyphIndex(&f.buf, r)
		if err == nil && g == 0 {
			err = fmt.Errorf("the font has no outline")
		}
		if err != nil {
			return nil, nil, fmt.Errorf("glyph: %q: %w", r, err)
		}
		segs, err := f.font.LoadGlyph(&f.buf, g, f.units, nil)
		if err != nil {
			return nil, nil, fmt.Errorf("glyph: %q: %w", r, err)
		}
		m := geometry.Scale(scale, -scale).Then(geometry.Translate(pen, 0)) // glyphs are y down
		for _, p := range contours(segs) {
			paths, letter = append(paths, p.Transform(m)), append(letter, i)
		}
		advance, err := f.font.GlyphAdvance(&f.buf, g, f.units, font.HintingNone)
		if err != nil {
			return nil, nil, fmt.Errorf("glyph: %q: %w", r, err)
		}
		pen += float64(advance) * scale
	}
	return paths, letter, nil
}

// contours turns the segments of one glyph into closed paths, in its own units
// of 1/64.
func contours(segs sfnt.Segments) []geometry.Path {
	at := func(p fixed.Point26_6) geometry.Point { return geometry.Pt(float64(p.X), float64(p.Y)) }
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
