package meaning

import (
	"math"

	"knifedesk/geometry/drawing"

	"github.com/lucasb-eyer/go-colorful"
)

// cielab is a colour in CIELAB: lightness from 0 to 100, and the two opponents.
type cielab struct{ L, A, B float64 }

// difference returns the CIEDE2000 difference of two sRGB colours, seen under
// D65: about 1 is just noticeable, 100 is black against white.
func difference(a, b drawing.Colour) float64 { return labDifference(lab(a), lab(b)) }

func lab(c drawing.Colour) cielab {
	l, a, b := colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.Lab()
	return cielab{100 * l, 100 * a, 100 * b} // the library counts from 0 to 1
}

// labDifference returns the CIEDE2000 difference with all weights 1, after
// Sharma, Wu and Dalal (2005), whose equations the numbers name. It is not the
// library's, which goes by way of RGB and so loses the hue difference of
// exactly 180° that the paper's tenth pair tests.
func labDifference(p, q cielab) float64 {
	g := 1 + 0.5*(1-chromaShare((math.Hypot(p.A, p.B)+math.Hypot(q.A, q.B))/2)) // (4), (5)
	c1, h1 := polar(g*p.A, p.B)
	c2, h2 := polar(g*q.A, q.B)
	turn, hue := hues(c1, h1, c2, h2)
	dl, dc, dh := q.L-p.L, c2-c1, 2*math.Sqrt(c1*c2)*sinDeg(turn/2) // (8), (9), (11)
	l, c := (p.L+q.L)/2, (c1+c2)/2
	t := 1 - 0.17*cosDeg(hue-30) + 0.24*cosDeg(2*hue) + 0.32*cosDeg(3*hue+6) - 0.20*cosDeg(4*hue-63) // (15)
	fromBlue := (hue - 275) / 25
	rotation := -2 * chromaShare(c) * sinDeg(60*math.Exp(-fromBlue*fromBlue)) // (16), (17), (21)
	fromGrey := (l - 50) * (l - 50)
	dl /= 1 + 0.015*fromGrey/math.Sqrt(20+fromGrey) // (18)
	dc /= 1 + 0.045*c                               // (19)
	dh /= 1 + 0.015*c*t                             // (20)
	return math.Sqrt(dl*dl + dc*dc + dh*dh + rotation*dc*dh)
}

// chromaShare is √(c⁷/(c⁷+25⁷)).
func chromaShare(c float64) float64 {
	c7 := math.Pow(c, 7)
	return math.Sqrt(c7 / (c7 + 6103515625))
}

// polar returns chroma and hue, the hue in degrees from 0 to 360; (6), (7).
func polar(a, b float64) (chroma, hue float64) {
	hue = math.Atan2(b, a) * 180 / math.Pi
	if hue < 0 {
		hue += 360
	}
	return math.Hypot(a, b), hue
}

// hues returns the difference and the mean of two hues in degrees, the short
// way round the circle; (10), (14). Of two opposite hues it takes the way that
// does not pass 0°, also where rounding puts them a hair more than 180° apart.
func hues(c1, h1, c2, h2 float64) (turn, mean float64) {
	if c1*c2 == 0 {
		return 0, h1 + h2
	}
	const opposite = 180 + 1e-9
	turn, mean = h2-h1, (h1+h2)/2
	if math.Abs(turn) <= opposite {
		return turn, mean
	}
	if mean < 180 {
		mean += 180
	} else {
		mean -= 180
	}
	return turn - math.Copysign(360, turn), mean
}

func sinDeg(a float64) float64 { return math.Sin(a * math.Pi / 180) }
func cosDeg(a float64) float64 { return math.Cos(a * math.Pi / 180) }
