package figure

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"strconv"

	"golang.org/x/image/vector"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// maxPixels bounds a PNG.
const maxPixels = 40 << 20

// PNG returns the picture with scale pixels for one unit of the page. It
// fails for a picture of more than 40 × 2²⁰ pixels, or of none, and with the error of
// ctx where that ends.
func (p *Picture) PNG(ctx context.Context, scale float64) ([]byte, error) {
	w, h := math.Ceil(p.Width*scale), math.Ceil(p.Height*scale)
	if !(w >= 1 && h >= 1 && w*h <= maxPixels) {
		return nil, fmt.Errorf("figure: %g × %g pixels, at most %d are drawn", w, h, maxPixels)
	}
	var out bytes.Buffer
	var failed error
	err := budget.Run(ctx, func(b *budget.Budget) { failed = p.encode(b, &out, int(w), int(h), scale) })
	if err = cmp.Or(err, failed); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// ScaleUpTo returns the largest scale, at most the one wanted, at which PNG draws the picture:
// a map in many parts may be very high.
func (p *Picture) ScaleUpTo(wanted float64) float64 {
	// Sides are rounded up to whole pixels: (ws + 1)(hs + 1) is the bound at most.
	a, b := p.Width*p.Height, p.Width+p.Height
	return math.Min(wanted, 2*(maxPixels-1)/(b+math.Sqrt(b*b+4*a*(maxPixels-1))))
}

func (p *Picture) encode(b *budget.Budget, out *bytes.Buffer, w, h int, scale float64) error {
	c := newCanvas(b, w, h, scale)
	for _, f := range p.figures {
		if err := c.figure(f); err != nil {
			return err
		}
	}
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	return enc.Encode(out, &watched{RGBA: c.img, b: b})
}

// canvas is an opaque image that figures are inked on.
type canvas struct {
	b       *budget.Budget
	img     *image.RGBA
	clip    image.Rectangle // of the figure being drawn
	scale   float64
	letters *lettering
	raster  vector.Rasterizer
}

func newCanvas(b *budget.Budget, w, h int, scale float64) *canvas {
	c := &canvas{b: b, img: image.NewRGBA(image.Rect(0, 0, w, h)), scale: scale, letters: newLettering(b)}
	draw.Draw(c.img, c.img.Bounds(), image.NewUniform(colour(Paper, 0)), image.Point{}, draw.Src)
	return c
}

func (c *canvas) figure(f figure) error {
	if f.text != "" {
		return c.text(f)
	}
	c.clip = c.img.Bounds()
	if f.clip != nil {
		box := geometry.Box{Min: f.clip.Min.Mul(c.scale), Max: f.clip.Max.Mul(c.scale)}
		r := image.Rect(int(math.Round(box.Min.X)), int(math.Round(box.Min.Y)), int(math.Round(box.Max.X)), int(math.Round(box.Max.Y)))
		c.clip = r.Intersect(c.clip)
	}
	c.b.Spend(1 + len(f.paths))
	lines := make([][]geometry.Point, len(f.paths))
	for i, p := range f.paths {
		lines[i] = flatten(c.b, p.Transform(geometry.Scale(c.scale, c.scale)), 0.1)
	}
	if f.style.Fill != "" {
		c.fill(lines, colour(f.style.Fill, f.style.Opacity))
	}
	if f.style.Stroke != "" {
		c.stroke(lines, f.style.Dash, f.style.Width*c.scale/2, colour(f.style.Stroke, f.style.Opacity))
	}
	return nil
}

// colour reads #rrggbb; opacity 0 counts as opaque.
func colour(hex string, opacity float64) color.NRGBA {
	v, _ := strconv.ParseUint(hex[1:], 16, 24) // all inks are part of the program
	a := uint8(255)
	if opacity > 0 {
		a = uint8(math.Round(255 * opacity))
	}
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: a}
}

// watched is an image that takes a step for each row that the encoder reads: the
// encoder itself knows no context.
type watched struct {
	*image.RGBA
	b    *budget.Budget
	last opaque
}

// rowSteps is what encoding a row of an image costs, in steps.
const rowSteps = 64

// Opaque spares the encoder a look at all pixels.
func (w *watched) Opaque() bool { return true }

// At returns the colour of a pixel, which holds until the next call.
func (w *watched) At(x, y int) color.Color {
	if x == 0 {
		w.b.Spend(rowSteps)
	}
	at := w.Pix[w.PixOffset(x, y):]
	w.last = opaque{at[0], at[1], at[2]}
	return &w.last
}

// opaque is red, green and blue.
type opaque [3]uint8

// RGBA returns the colour as color.Color has it.
func (o *opaque) RGBA() (r, g, b, a uint32) {
	const spread = 0x101 // from 8 bits to 16
	return spread * uint32(o[0]), spread * uint32(o[1]), spread * uint32(o[2]), 0xffff
}
