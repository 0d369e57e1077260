package meaning

import (
	"cmp"
	"slices"

	"knifedesk/geometry/drawing"

	"github.com/lucasb-eyer/go-colorful"
)

// hue is a class of hues in CIE LCh(uv).
type hue struct {
	below       float64 // the class ends at this angle, in degrees
	name        string
	dark, light string  // of the class; empty: "dark" and "light" before the name
	darkBelow   float64 // lightness, from 0 to 100, below which it is dark
	paleBelow   float64 // saturation, chroma by lightness, below which a light one is pale
}

// hues by the names that people give to colours (from memory, held by a test to the
// names of CSS Color 4, section 6.1). Blue is dark by nature, and yellow light.
func hueNames() []hue {
	return []hue{
		{24, "red", "", "pink", 38, 0.95}, {62, "orange", "brown", "", 57, 0.95}, {98, "yellow", "olive green", "", 57, 0.95},
		{165, "green", "", "", 38, 0.95}, {212, "turquoise", "", "", 38, 0.6}, {274, "blue", "", "", 28, 0.95}, {302, "violet", "", "", 28, 0.95},
		{338, "magenta", "purple", "pink", 38, 0.95}, {352, "pink", "dark red", "", 38, 0}, {361, "red", "", "pink", 38, 0.95},
	}
}

// Bounds that hold for all hues: lightness from 0 to 100, and saturation.
const (
	blackBelow = 12
	whiteFrom  = 97
	greyBelow  = 0.13 // saturation below which one sees a grey
	dullBelow  = 0.6  // and below which a colour looks greyish
	lightFrom  = 62
)

// colourName returns what a person calls a colour: "dark green".
func colourName(c drawing.Colour) string {
	l, chroma, angle := colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.LuvLCh()
	l, chroma = 100*l, 100*chroma
	grey := chroma < greyBelow*l
	switch {
	case l < blackBelow && chroma < 25:
		return "black"
	case grey && l >= whiteFrom:
		return "white"
	case grey && l < 38:
		return "dark grey"
	case grey && l > 72:
		return "light grey"
	case grey:
		return "grey"
	}
	all := hueNames()
	return all[slices.IndexFunc(all, func(h hue) bool { return angle < h.below })].named(l, chroma/l)
}

// named returns the name of a colour of the class.
func (h hue) named(lightness, saturation float64) string {
	switch {
	case lightness >= lightFrom && saturation < h.paleBelow:
		return cmp.Or(h.light, "light "+h.name)
	case lightness < h.darkBelow && saturation >= dullBelow:
		return cmp.Or(h.dark, "dark "+h.name)
	case saturation < dullBelow:
		return "greyish " + h.name
	}
	return h.name
}

// colourWords names a colour for a person, and by its number for their drawing
// program: "dark green (#006400)".
func colourWords(c drawing.Colour) string { return colourName(c) + " (" + c.String() + ")" }
