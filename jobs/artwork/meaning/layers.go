package meaning

import (
	"slices"
	"strings"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/workshop"
)

// Layer is a layer whose lines a convention gives a meaning, in a colour that
// says the same.
type Layer struct {
	Means  workshop.Meaning
	Fold   workshop.Side // of folds that the convention tells apart; empty: any fold
	Name   string
	Colour drawing.Colour
}

// Layers returns a layer for each meaning that lines can have on a family of
// materials: the frame, the cuts, what else the machine does there, and notes. A
// meaning is left out where no layer and colour are sure to give it, or where it
// needs a line width, which not every file carries. No two layers have the same
// name; what comes first has it.
func Layers(c *workshop.Convention, f workshop.Family) []Layer {
	var out []Layer
	taken := map[string]bool{}
	for _, m := range []workshop.Meaning{workshop.MeansFrame, workshop.MeansCut, workshop.MeansScore, workshop.MeansPerforate, workshop.MeansPen, workshop.MeansNothing} {
		made := m != workshop.MeansFrame && m != workshop.MeansNothing
		if made && !slices.Contains(operations(f), m) {
			continue
		}
		for _, side := range sidesOf(c, m) {
			if l, ok := layerFor(c, m, side, taken); ok {
				taken[strings.ToLower(l.Name)] = true
				out = append(out, l)
			}
		}
	}
	return out
}

// sidesOf lists which sides of folds a layer is looked for: any, and those that rules
// name.
func sidesOf(c *workshop.Convention, m workshop.Meaning) []workshop.Side {
	sides := []workshop.Side{""}
	for _, side := range []workshop.Side{workshop.Mountain, workshop.Valley} {
		if slices.ContainsFunc(c.Rules, func(r workshop.Rule) bool { return r.Means == m && r.Fold == side }) {
			sides = append(sides, side)
		}
	}
	return sides
}

// layerFor finds the first name and colour that a convention reads as a meaning, and of
// folds as going to a side.
func layerFor(c *workshop.Convention, m workshop.Meaning, side workshop.Side, taken map[string]bool) (Layer, bool) {
	names, colours := marksOf(c, m, side)
	for _, name := range names {
		for _, colour := range colours {
			if r := read(c, mark{layer: name, colour: colour}); !taken[strings.ToLower(name)] && r.means == m && r.fold == side {
				return Layer{Means: m, Fold: side, Name: name, Colour: colour}, true
			}
		}
	}
	return Layer{}, false
}

// marksOf lists the names and colours that may have a meaning by a convention, those
// of its rules first.
func marksOf(c *workshop.Convention, m workshop.Meaning, side workshop.Side) (names []string, colours []drawing.Colour) {
	for _, r := range c.Rules {
		if r.Means != m || r.Fold != side || r.WidthMM > 0 {
			continue
		}
		if r.Colour != nil {
			colours = append(colours, *r.Colour)
		}
		if name := literal(r.Layer); name != "" {
			names = append(names, name)
		}
	}
	return append(names, usualName(m, side)), append(colours, usualColour(m, side), drawing.Colour{})
}

// literal returns a name that most patterns of layers match: their wildcards stand
// for nothing, or for an x.
func literal(pattern string) string {
	return strings.NewReplacer("*", "", "?", "x").Replace(pattern)
}

// usualName is what a layer is called that the convention knows by colour alone.
func usualName(m workshop.Meaning, side workshop.Side) string {
	if side != "" {
		return strings.ToUpper(string(side))
	}
	switch m {
	case workshop.MeansNothing:
		return "NOTES"
	case workshop.MeansFrame:
		return "PAGE"
	case workshop.MeansScore:
		return "FOLD"
	}
	return strings.ToUpper(string(m))
}

// usualColour is that of a layer for which the convention names no colour, chosen so
// that they differ on a screen and in grey.
func usualColour(m workshop.Meaning, side workshop.Side) drawing.Colour {
	switch side {
	case workshop.Mountain:
		return drawing.Colour{R: 0xb0, G: 0x3a, B: 0x2e}
	case workshop.Valley:
		return drawing.Colour{R: 0x2a, G: 0x4f, B: 0xb0}
	}
	switch m {
	case workshop.MeansFrame:
		return drawing.Colour{R: 0x90, G: 0x90, B: 0x90}
	case workshop.MeansNothing:
		return drawing.Colour{R: 0x60, G: 0x60, B: 0x60}
	case workshop.MeansPen:
		return drawing.Colour{R: 0x5a, G: 0x5f, B: 0x2a}
	case workshop.MeansScore:
		return drawing.Colour{R: 0x9c, G: 0x5a, B: 0x10}
	case workshop.MeansPerforate:
		return drawing.Colour{R: 0xa8, G: 0x2f, B: 0x6d}
	}
	return drawing.Colour{}
}

// Means returns what a convention says of lines on a layer and in a colour, and the
// side of folds; "" where it does not say.
func Means(c *workshop.Convention, layer string, colour drawing.Colour) (workshop.Meaning, workshop.Side) {
	r := read(c, mark{layer: layer, colour: colour})
	return r.means, r.fold
}
