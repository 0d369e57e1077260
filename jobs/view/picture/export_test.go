package picture

import (
	"slices"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// Letter names what has no number of its own.
var Letter = letter

// Style is what tests hold a style against.
type Style struct {
	Stroke string
	Width  float64
	Dash   []float64
}

func exported(s figure.Style) Style { return Style{s.Stroke, s.Width, s.Dash} }

// LineStyles returns the styles of all kinds of lines a plan has, by name.
func LineStyles() map[string]Style {
	all := map[string]Style{}
	for _, op := range artwork.Operations() {
		all[string(op)] = exported(strokeStyle(op))
	}
	for _, a := range []artwork.Added{artwork.Relief, artwork.Border, artwork.Seam} {
		all[string(a)] = exported(lineStyle(&artwork.Stroke{Added: a}))
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
	for _, c := range classes() {
		p := patternOf(c)
		all[c] = Pattern{p.Tint, p.Line.Stroke, p.Deg, p.Gap, p.Dots}
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
	return append(lines, keptInk, sandInk, alarm, figure.Faint), []string{figure.Ink, figure.Quiet}, []string{figure.Paper, keptTint, sandTint, emberTint, stockTint}
}

// Numbers writes ascending numbers with runs joined.
var Numbers = numbers
