package meaning_test

import (
	"math"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork/meaning"

	"github.com/lucasb-eyer/go-colorful"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"
)

// Source: G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference
// formula: implementation notes, supplementary test data, and mathematical
// observations", Color Research and Application 30 (2005), table 1. Each row
// is two colours in CIELAB and their difference to four decimals.
var sharma = [34][7]float64{
	{50.0000, 2.6772, -79.7751, 50.0000, 0.0000, -82.7485, 2.0425},
	{50.0000, 3.1571, -77.2803, 50.0000, 0.0000, -82.7485, 2.8615},
	{50.0000, 2.8361, -74.0200, 50.0000, 0.0000, -82.7485, 3.4412},
	{50.0000, -1.3802, -84.2814, 50.0000, 0.0000, -82.7485, 1.0000},
	{50.0000, -1.1848, -84.8006, 50.0000, 0.0000, -82.7485, 1.0000},
	{50.0000, -0.9009, -85.5211, 50.0000, 0.0000, -82.7485, 1.0000},
	{50.0000, 0.0000, 0.0000, 50.0000, -1.0000, 2.0000, 2.3669},
	{50.0000, -1.0000, 2.0000, 50.0000, 0.0000, 0.0000, 2.3669},
	{50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0009, 7.1792},
	{50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0010, 7.1792},
	{50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0011, 7.2195},
	{50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0012, 7.2195},
	{50.0000, -0.0010, 2.4900, 50.0000, 0.0009, -2.4900, 4.8045},
	{50.0000, -0.0010, 2.4900, 50.0000, 0.0010, -2.4900, 4.8045},
	{50.0000, -0.0010, 2.4900, 50.0000, 0.0011, -2.4900, 4.7461},
	{50.0000, 2.5000, 0.0000, 50.0000, 0.0000, -2.5000, 4.3065},
	{50.0000, 2.5000, 0.0000, 73.0000, 25.0000, -18.0000, 27.1492},
	{50.0000, 2.5000, 0.0000, 61.0000, -5.0000, 29.0000, 22.8977},
	{50.0000, 2.5000, 0.0000, 56.0000, -27.0000, -3.0000, 31.9030},
	{50.0000, 2.5000, 0.0000, 58.0000, 24.0000, 15.0000, 19.4535},
	{50.0000, 2.5000, 0.0000, 50.0000, 3.1736, 0.5854, 1.0000},
	{50.0000, 2.5000, 0.0000, 50.0000, 3.2972, 0.0000, 1.0000},
	{50.0000, 2.5000, 0.0000, 50.0000, 1.8634, 0.5757, 1.0000},
	{50.0000, 2.5000, 0.0000, 50.0000, 3.2592, 0.3350, 1.0000},
	{60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644},
	{63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630},
	{61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731},
	{35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645},
	{22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373},
	{36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146},
	{90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441},
	{90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381},
	{6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377},
	{2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082},
}

func TestPublishedPairs(t *testing.T) {
	for i, row := range sharma {
		a, b := meaning.Lab{L: row[0], A: row[1], B: row[2]}, meaning.Lab{L: row[3], A: row[4], B: row[5]}
		for _, got := range []float64{meaning.LabDifference(a, b), meaning.LabDifference(b, a)} {
			if math.Abs(got-row[6]) > 0.00005 {
				t.Errorf("pair %d: %.5f, published %.4f", i+1, got, row[6])
			}
		}
	}
}

// The library's own CIEDE2000 is a second opinion on sRGB colours.
func TestDifferenceAgreesWithLibrary(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		colour := func(name string) drawing.Colour {
			v := rapid.SliceOfN(rapid.Byte(), 3, 3).Draw(t, name)
			return drawing.Colour{R: v[0], G: v[1], B: v[2]}
		}
		srgb := func(c drawing.Colour) colorful.Color {
			return colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}
		}
		a, b := colour("a"), colour("b")
		if got, want := meaning.Difference(a, b), 100*srgb(a).DistanceCIEDE2000(srgb(b)); math.Abs(got-want) > 1e-6 {
			t.Fatalf("%s to %s: %.8f, the library says %.8f", a, b, got, want)
		}
	})
}

// Source: black against white differ by 100 (CIELAB lightness runs from 0 to
// 100, and SL at mean lightness 50 is 1); the rest by hand from the formula.
func TestDifference(t *testing.T) {
	black, white := drawing.Colour{}, drawing.Colour{R: 255, G: 255, B: 255}
	if d := meaning.Difference(black, white); math.Abs(d-100) > 0.01 {
		t.Errorf("black to white %.4f, want 100", d)
	}
	if d := meaning.Difference(*teal, *teal); d != 0 {
		t.Errorf("a colour to itself %g", d)
	}
	if a, b := meaning.Difference(*teal, *violet), meaning.Difference(*violet, *teal); a != b || a < 15 {
		t.Errorf("teal to violet %g, back %g: want the same and more than 15", a, b)
	}
}
