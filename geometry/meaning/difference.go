package meaning

import (
	"knifedesk/geometry/drawing"

	"github.com/lucasb-eyer/go-colorful"
)

// Difference returns the CIEDE2000 difference of two sRGB colours (CIE 142:
// 2001; D65): about 1 is just noticeable, 100 is black against white.
func Difference(a, b drawing.Colour) float64 {
	return srgb(a).DistanceCIEDE2000(srgb(b)) * 100 // the library counts L from 0 to 1
}

func srgb(c drawing.Colour) colorful.Color {
	return colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}
}
