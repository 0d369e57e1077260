package dxf

import "knifedesk/geometry/drawing"

// Colour numbers with a meaning of their own.
const (
	byBlock = 0
	byLayer = 256
)

// palette holds the colours of the numbers 0 to 255.
type palette [256]drawing.Colour

// newPalette computes the standard palette: 1–6 are the full primaries and
// secondaries, 7 the ink (black here, since work is cut from something light),
// 8 and 9 greys, 250–255 greys from dark to white. The 240 between run round
// the hues in steps of 15°: ten to a hue, at brightnesses 100, 65, 50, 30 and
// 15 %, each full and then half mixed with white of that brightness.
func newPalette() *palette {
	p := &palette{}
	for n, rgb := range [10]int{1: 0xff0000, 2: 0xffff00, 3: 0x00ff00, 4: 0x00ffff,
		5: 0x0000ff, 6: 0xff00ff, 7: 0x000000, 8: 0x808080, 9: 0xc0c0c0} {
		p[n] = *trueColour(rgb)
	}
	brightness := [5]int{100, 65, 50, 30, 15}
	for n := 10; n < 250; n++ {
		p[n] = hueColour(n/10-1, brightness[n%10/2], n%2 == 1)
	}
	for n := 250; n < 256; n++ {
		grey := uint8((510 + 408*(n-250)) / 10)
		p[n] = drawing.Colour{R: grey, G: grey, B: grey}
	}
	return p
}

// hueColour returns the colour of a hue in steps of 15° at a brightness in
// percent. Levels are in 1/800 of a colour step, so that nothing is rounded
// before the end.
func hueColour(hue, brightness int, half bool) drawing.Colour {
	high := 255 * 8 * brightness
	low := 0
	if half {
		low = high / 2
	}
	sector, step := hue/4, hue%4
	rising, falling := low+(high-low)*step/4, high-(high-low)*step/4
	c := [6][3]int{
		{high, rising, low}, {falling, high, low}, {low, high, rising},
		{low, falling, high}, {rising, low, high}, {high, low, falling},
	}[sector]
	return drawing.Colour{R: uint8(c[0] / 800), G: uint8(c[1] / 800), B: uint8(c[2] / 800)}
}

// trueColour returns the colour of a group 420.
func trueColour(v int) *drawing.Colour {
	return drawing.RGB(uint8(v>>16), uint8(v>>8), uint8(v))
}
