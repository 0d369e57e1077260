package figure

// RoundLength is the length of a scale bar.
var RoundLength = roundLength

// MaxPixels bounds a PNG.
const MaxPixels = maxPixels

// Wrap breaks text as a page does.
func Wrap(text string, size, width float64) []string {
	return newLettering(nil).wrap(text, size, width)
}
