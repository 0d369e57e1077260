package figure

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"strconv"

	"golang.org/x/image/vector"

	"knifedesk/geometry"
)

// MaxPixels bounds a PNG.
const MaxPixels = 40 << 20

// PNG returns the picture with scale pixels for one unit of the page. It
// fails for a picture of more than MaxPixels, or of none.
func (p *Picture) PNG(scale float64) ([]byte, error) {
	w, h := math.Ceil(p.Width*scale), math.Ceil(p.Height*scale)
	if !(w >= 1 && h >= 1 && w*h <= MaxPixels) {
		return nil, fmt.Errorf("figure: %g × %g pixels, at most %d are drawn", w, h, MaxPixels)
	}
	c := newCanvas(int(w), int(h), scale)
	for _, f := range p.figures {
		if err := c.figure(f); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&b, c.img); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// canvas is an opaque image that figures are inked on.
type canvas struct {
	img     *image.RGBA
	clip    image.Rectangle // of the figure being drawn
	scale   float64
	letters *lettering
	raster  vector.Rasterizer
}

func newCanvas(w, h int, scale float64) *canvas {
	c := &canvas{img: image.NewRGBA(image.Rect(0, 0, w, h)), scale: scale, letters: newLettering()}
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
	lines := make([][]geometry.Point, len(f.paths))
	for i, p := range f.paths {
		lines[i] = p.Transform(geometry.Scale(c.scale, c.scale)).Flatten(0.1)
	}
	if f.style.Fill != "" {
		c.fill(lines, colour(f.style.Fill, f.style.Opacity))
	}
	if f.style.Stroke != "" {
		c.stroke(dashed(lines, f.style.Dash, c.scale), f.style.Width*c.scale/2, colour(f.style.Stroke, f.style.Opacity))
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
