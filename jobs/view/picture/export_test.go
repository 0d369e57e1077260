package picture

import (
	"slices"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// Style is what tests hold a style against.
type Style struct {
	Stroke string
	Width  float64
	Dash   []float64
}

func (s style) exported() Style { return Style{s.stroke, s.width, s.dash} }

// LineStyles returns the styles of all kinds of lines a plan has, by name.
func LineStyles() map[string]Style {
	all := map[string]Style{}
	for _, op := range artwork.Operations() {
		all[string(op)] = strokeStyle(op).exported()
	}
	for _, a := range []artwork.Added{artwork.Relief, artwork.Border, artwork.Seam} {
		all[string(a)] = lineStyle(&artwork.Stroke{Added: a}).exported()
	}
	return all
}

// Pattern is what tests hold the pattern of a class against.
type Pattern struct {
	Tint, Ink string
	Deg, Gap  float64
	Dots      float64
}

// Patterns returns the patterns of the classes.
func Patterns() map[weeding.Class]Pattern {
	all := map[weeding.Class]Pattern{}
	for _, c := range classes {
		p := patternOf(c)
		all[c] = Pattern{p.tint, p.line.stroke, p.deg, p.gap, p.dots}
	}
	return all
}

// Inks returns the inks of lines, marks and letters, and the tints that they
// lie on.
func Inks() (lines, letters, grounds []string) {
	for _, s := range LineStyles() {
		lines = append(lines, s.Stroke)
	}
	slices.Sort(lines)
	return append(lines, keptInk, sandInk, alarm, faint), []string{ink, quiet}, []string{paper, keptTint, sandTint, emberTint, stockTint}
}

var (
	Numbers     = numbers
	RoundLength = roundLength
	Cell        = cell
)

// Wrap breaks text as a page does.
func Wrap(text string, size, width float64) []string {
	l, err := newLettering()
	if err != nil {
		panic(err)
	}
	return l.wrap(text, size, width)
}
