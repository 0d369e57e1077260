package figure

import (
	"context"
	"math"

	"knifedesk/geometry/budget"
)

// Format is what a page is laid out for. Letters have the same size in pixels in
// every format, so a narrow one has more lines and smaller drawings.
type Format struct {
	Width   float64 // of the page, in pixels
	Margin  float64 // left and right of what is written, in pixels
	Drawing float64 // how high a drawing may be, in pixels
}

// Measure is how wide a page is between its margins, in pixels.
func (f Format) Measure() float64 { return f.Width - 2*f.Margin }

// PrintMM is how large a pixel comes out in mm where a page of Screen(0) fills the
// width of A4 between margins of 12 mm.
const PrintMM = 0.186

// Screen is the format of a page that is shown so many pixels wide; 0: as wide as
// pages usually are.
func Screen(width float64) Format {
	if width == 0 {
		width = 1000
	}
	return Format{Width: width, Margin: math.Max(10, 0.036*width), Drawing: math.Min(760, 1.4*width)}
}

// formatKey is where a context holds the format of what is drawn under it.
type formatKey struct{}

// Onto returns a context under which pages are laid out for a format: what they are
// shown on belongs to who asks for them, and to nothing that is drawn.
func Onto(ctx context.Context, f Format) context.Context {
	return context.WithValue(ctx, formatKey{}, f)
}

// FormatOf returns the format for which pages are laid out under the context of b.
func FormatOf(b *budget.Budget) Format {
	if f, ok := b.Value(formatKey{}).(Format); ok {
		return f
	}
	return Screen(0)
}

// Printed is the format of a plate w × h mm, on which a pixel is PrintMM.
func Printed(w, h float64) Format {
	return Format{Width: w / PrintMM, Margin: 4, Drawing: h / PrintMM}
}
