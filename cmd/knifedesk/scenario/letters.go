package scenario

import (
	"golang.org/x/image/font/gofont/gobold"

	"knifedesk/geometry"
	"knifedesk/geometry/glyph"
)

// Letters returns the outlines of text in the bold Go face, its capitals
// cap mm high, the first glyph's origin at (x, y).
func Letters(text string, x, y, cap float64) []geometry.Path {
	face, err := glyph.Parse(gobold.TTF)
	if err != nil {
		panic("scenario: " + err.Error()) // the face is part of the program
	}
	const em = 100.0
	word := func(s string) []geometry.Path {
		paths, _, err := face.Word(s, em)
		if err != nil {
			panic("scenario: " + err.Error()) // so are its texts
		}
		return paths
	}
	k := cap / bounds(word("H")).Height()
	return transformed(word(text), geometry.Scale(k, k).Then(geometry.Translate(x, y)))
}

// centred moves paths so that the middle of their box is at (x, y).
func centred(paths []geometry.Path, x, y float64) []geometry.Path {
	c := bounds(paths).Centre()
	return transformed(paths, geometry.Translate(x-c.X, y-c.Y))
}

func bounds(paths []geometry.Path) geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range paths {
		b = b.Union(p.Bounds())
	}
	return b
}

func transformed(paths []geometry.Path, m geometry.Affine) []geometry.Path {
	out := make([]geometry.Path, len(paths))
	for i, p := range paths {
		out[i] = p.Transform(m)
	}
	return out
}
