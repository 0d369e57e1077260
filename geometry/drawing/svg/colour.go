package svg

import (
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry/drawing"

	"github.com/lucasb-eyer/go-colorful"
	"golang.org/x/image/colornames"
)

// rgba is a colour with its opacity from 0 to 1.
type rgba struct {
	drawing.Colour
	alpha float64
}

// parseColour reads a colour in any form of CSS Color 4 that names one by
// itself. currentColor and the system colours are not among them.
func parseColour(s string) (rgba, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	if i := strings.Index(s, "icc-color("); i > 0 { // SVG 1.1: an sRGB colour stands before it
		s = strings.TrimSpace(s[:i])
	}
	if strings.HasPrefix(s, "#") {
		return hexColour(s[1:])
	}
	if open := strings.IndexByte(s, '('); open > 0 && strings.HasSuffix(s, ")") {
		return functionColour(s[:open], s[open+1:len(s)-1])
	}
	switch s {
	case "transparent":
		return rgba{}, true
	case "rebeccapurple": // CSS Color 4 added it to the names of SVG 1.1
		return rgba{drawing.Colour{R: 0x66, G: 0x33, B: 0x99}, 1}, true
	}
	c, ok := colornames.Map[s]
	return rgba{drawing.Colour{R: c.R, G: c.G, B: c.B}, 1}, ok
}

func hexColour(s string) (rgba, bool) {
	if len(s) == 3 || len(s) == 4 {
		var long []byte
		for i := range len(s) {
			long = append(long, s[i], s[i])
		}
		s = string(long)
	}
	if len(s) == 6 {
		s += "ff"
	}
	v, err := strconv.ParseUint(s, 16, 32)
	if err != nil || len(s) != 8 {
		return rgba{}, false
	}
	return rgba{drawing.Colour{R: uint8(v >> 24), G: uint8(v >> 16), B: uint8(v >> 8)}, float64(v&0xff) / 255}, true
}

// component is one argument of a colour function.
type component struct {
	value   float64
	percent bool
}

// of returns the component as a plain number where 100 % stands for whole.
func (c component) of(whole float64) float64 {
	if c.percent {
		return c.value / 100 * whole
	}
	return c.value
}

// d50 is the white of lab() and lch(): CSS Color 4.
func d50() [3]float64 {
	return [3]float64{0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585}
}

func functionColour(name, args string) (rgba, bool) {
	if name == "color" {
		space, rest, _ := strings.Cut(strings.TrimSpace(args), " ")
		name, args = "color "+space, rest
	}
	c, alpha, ok := components(args)
	if !ok {
		return rgba{}, false
	}
	var col colorful.Color
	switch name {
	case "rgb", "rgba":
		col = colorful.Color{R: c[0].of(255) / 255, G: c[1].of(255) / 255, B: c[2].of(255) / 255}
	case "hsl", "hsla":
		col = colorful.Hsl(turn(c[0].value), unit(c[1].value/100), unit(c[2].value/100))
	case "hwb":
		col = hwb(c[0].value, unit(c[1].value/100), unit(c[2].value/100))
	case "lab":
		return rgba{drawing.FromLab(c[0].of(100), c[1].of(125), c[2].of(125), d50()), alpha}, true
	case "lch":
		sin, cos := math.Sincos(c[2].value * math.Pi / 180)
		return rgba{drawing.FromLab(c[0].of(100), c[1].of(150)*cos, c[1].of(150)*sin, d50()), alpha}, true
	case "oklab":
		col = colorful.OkLab(c[0].of(1), c[1].of(0.4), c[2].of(0.4))
	case "oklch":
		col = colorful.OkLch(c[0].of(1), c[1].of(0.4), c[2].value)
	case "color srgb":
		col = colorful.Color{R: c[0].of(1), G: c[1].of(1), B: c[2].of(1)}
	default:
		return rgba{}, false
	}
	r, g, b := col.Clamped().RGB255()
	return rgba{drawing.Colour{R: r, G: g, B: b}, alpha}, true
}

// components reads three components and an opacity, parted by commas or by
// spaces with a slash before the opacity. An angle may carry its unit.
func components(args string) (c [3]component, alpha float64, ok bool) {
	words := strings.FieldsFunc(args, func(r rune) bool { return strings.ContainsRune(" \t\r\n\f,/", r) })
	if len(words) != 3 && len(words) != 4 {
		return c, 0, false
	}
	alpha = 1
	for i, w := range words {
		v, ok := parseComponent(w)
		if !ok {
			return c, 0, false
		}
		if i == 3 {
			alpha = unit(v.of(1))
			break
		}
		c[i] = v
	}
	return c, alpha, true
}

func parseComponent(w string) (component, bool) {
	if w == "none" {
		return component{}, true
	}
	v, end, ok := number(w, 0)
	if !ok {
		return component{}, false
	}
	if k, angle := degrees(w[end:]); angle {
		return component{value: v * k}, true
	}
	return component{v, w[end:] == "%"}, w[end:] == "" || w[end:] == "%"
}

// degrees returns the degrees in one unit of angle, and false for any other
// unit.
func degrees(unit string) (float64, bool) {
	switch unit {
	case "deg":
		return 1, true
	case "grad":
		return 0.9, true
	case "rad":
		return 180 / math.Pi, true
	case "turn":
		return 360, true
	}
	return 0, false
}

func unit(v float64) float64 { return math.Max(0, math.Min(1, v)) }

func turn(degrees float64) float64 { return math.Mod(math.Mod(degrees, 360)+360, 360) }

// hwb mixes a hue with white and black: CSS Color 4, The HWB notation.
func hwb(hue, white, black float64) colorful.Color {
	if white+black >= 1 {
		grey := white / (white + black)
		return colorful.Color{R: grey, G: grey, B: grey}
	}
	c := colorful.Hsl(turn(hue), 1, 0.5)
	mix := func(v float64) float64 { return v*(1-white-black) + white }
	return colorful.Color{R: mix(c.R), G: mix(c.G), B: mix(c.B)}
}
