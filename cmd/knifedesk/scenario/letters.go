package scenario

import (
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gobolditalic"

	"knifedesk/geometry"
	"knifedesk/geometry/glyph"
)

// Letters returns the outlines of text in the bold Go face, its capitals
// cap mm high, the first glyph's origin at (x, y).
func Letters(text string, x, y, cap float64) []geometry.Path {
	return set(gobold.TTF, text, x, y, cap, 0)
}

// Script returns the outlines of text in the bold italic Go face, each letter
// drawn back over the one before it by overlap mm, as joined handwriting comes
// from a drawing program.
func Script(text string, x, y, cap, overlap float64) []geometry.Path {
	return set(gobolditalic.TTF, text, x, y, cap, overlap)
}

// set sets text in a face that is part of the program.
func set(font []byte, text string, x, y, cap, overlap float64) []geometry.Path {
	face, err := glyph.Parse(font)
	if err != nil {
		panic("scenario: " + err.Error())
	}
	const em = 100.0
	word := func(s string) ([]geometry.Path, []int) {
		paths, letter, err := face.Word(s, em)
		if err != nil {
			panic("scenario: " + err.Error())
		}
		return paths, letter
	}
	capital, _ := word("H")
	k := cap / bounds(capital).Height()
	paths, letter := word(text)
	for i := range paths {
		paths[i] = paths[i].Transform(geometry.Scale(k, k).Then(geometry.Translate(x-overlap*float64(letter[i]), y)))
	}
	return paths
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
