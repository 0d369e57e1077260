// Package legend is what a starter file says of itself in outlines of letters: what
// lies on which layer, and how high letters have to be.
package legend

import (
	"fmt"
	"math"
	"strings"

	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry"
	"knifedesk/geometry/glyph"
	"knifedesk/geometry/number"
	"knifedesk/jobs/workshop"
)

// The lines in mm: how far from the frame's edge, how high their small letters
// are, and what their lines are apart, in heights of a capital.
const (
	edgeMM   = 8
	smallMM  = 3
	lineStep = 1.8
)

// note is one line of letters, as high as it says.
type note struct {
	text  string
	capMM float64
}

// Layer is a layer that the legend explains.
type Layer struct {
	Name  string
	Means workshop.Meaning
	Fold  workshop.Side
}

// Paths are the outlines of the letters, in mm from the lower left corner of a frame
// that is so wide and long: what lies on which layer, and capitals of the heights that
// can be weeded by the limits.
func Paths(l *workshop.Limits, layers []Layer, width, length float64) []geometry.Path {
	face, err := glyph.Parse(goregular.TTF)
	if err != nil {
		panic("legend: " + err.Error()) // the font is part of the program
	}
	var paths []geometry.Path
	y := 0.0
	for _, n := range lines(l, layers, width, length) {
		paths = append(paths, set(face, n, y)...)
		y += lineStep * n.capMM
	}
	return inCorner(paths, width, length)
}

// inCorner moves the letters to the corner, and makes them smaller where there is no
// room for them.
func inCorner(paths []geometry.Path, width, length float64) []geometry.Path {
	box := geometry.EmptyBox()
	for _, p := range paths {
		box = box.Union(p.Bounds())
	}
	edge := math.Min(edgeMM, math.Min(width, length)/10)
	k := min(1, (width-2*edge)/box.Width(), (length-2*edge)/box.Height())
	for i := range paths {
		paths[i] = paths[i].Transform(geometry.Scale(k, k).Then(geometry.Translate(edge-k*box.Min.X, edge-k*box.Min.Y)))
	}
	return paths
}

// lines are the texts from the bottom up.
func lines(l *workshop.Limits, layers []Layer, width, length float64) []note {
	small := func(text string) note { return note{text, smallMM} }
	out := []note{small(fmt.Sprintf("Frame %s x %s mm: keep it, it carries the size.", number.Exact(width), number.Exact(length)))}
	for _, one := range layers {
		if words := does(one); words != "" {
			out = append(out, small(one.Name+": "+words))
		}
	}
	return append(out, samples(l)...)
}

// samples are capitals of the heights that can be weeded, each over what is said of it.
func samples(l *workshop.Limits) (out []note) {
	for _, sample := range []struct {
		capMM float64
		words string
	}{{l.LetterExpertMM, "for experts"}, {l.LetterCareMM, "with care"}, {l.LetterEasyMM, "easy"}} {
		if sample.capMM > 0 {
			words := fmt.Sprintf("capitals %s mm high: %s", number.Exact(sample.capMM), sample.words)
			out = append(out, note{words, smallMM}, note{"ABC 123", sample.capMM})
		}
	}
	return out
}

// does says in the file what becomes of a layer's lines.
func does(l Layer) string {
	switch l.Fold {
	case workshop.Mountain:
		return "folded up, like a ridge"
	case workshop.Valley:
		return "folded in, like an open book"
	}
	switch l.Means {
	case workshop.MeansNothing:
		return "never cut"
	case workshop.MeansPen:
		return "drawn with a pen"
	case workshop.MeansScore:
		return "folded"
	case workshop.MeansPerforate:
		return "torn along"
	case workshop.MeansCut:
		return "cut"
	}
	return ""
}

// em is the size in which letters are measured.
const em = 100

// set returns the outlines of a line of letters, its baseline at y.
func set(face *glyph.Face, n note, y float64) []geometry.Path {
	k := n.capMM / outlines(face, "H")[0].Bounds().Height()
	paths := outlines(face, n.text)
	for i := range paths {
		paths[i] = paths[i].Transform(geometry.Scale(k, k).Then(geometry.Translate(0, y)))
	}
	return paths
}

// outlines sets text without the letters that the font lacks: those of layers are
// anybody's.
func outlines(face *glyph.Face, text string) []geometry.Path {
	known := strings.Map(func(r rune) rune {
		if _, _, err := face.Word(string(r), em); err != nil {
			return -1
		}
		return r
	}, text)
	paths, _, err := face.Word(known, em)
	if err != nil {
		panic("legend: " + err.Error()) // each letter was looked up
	}
	return paths
}
