package preview

import (
	"fmt"
	"math"

	"golang.org/x/image/font"

	"knifedesk/geometry"
)

// Sizes of the page in pixels.
const (
	pageWidth  = 1000.0
	pageMargin = 36.0
	headHeight = 84.0
	maxDrawing = 720.0
	minDrawing = 220.0
	lineHeight = 21.0
)

// page is a picture with a heading, a drawing area in true proportion, a scale
// bar and a legend below.
type page struct {
	Picture
	view  geometry.Affine // mm (y up) to pixels
	scale float64         // pixels for one mm
	area  geometry.Box    // the drawing area in pixels
	taken []geometry.Box  // where labels lie
	foot  float64         // next free line below the area
}

// newPage lays out a page that shows extent (mm, or drawing units where no
// size is known yet) as large as it fits.
func newPage(title, subtitle string, extent geometry.Box) *page {
	if extent.Empty() {
		extent = geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(10, 10))
	}
	extent = extent.Grow(0.03 * math.Max(math.Max(extent.Width(), extent.Height()), 1e-6))
	usable := pageWidth - 2*pageMargin
	scale := math.Min(usable/extent.Width(), maxDrawing/extent.Height())
	height := math.Max(minDrawing, extent.Height()*scale)
	p := &page{scale: scale}
	p.Width, p.Title = pageWidth, title+". "+subtitle
	p.area = geometry.Box{Min: geometry.Pt(pageMargin, headHeight), Max: geometry.Pt(pageWidth-pageMargin, headHeight+height)}
	c, m := extent.Centre(), p.area.Centre()
	p.view = geometry.Affine{A: scale, D: -scale, E: m.X - c.X*scale, F: m.Y + c.Y*scale}
	p.foot = p.area.Max.Y + 34
	p.writeBold(geometry.Pt(pageMargin, 42), 25, left, ink, title)
	p.write(geometry.Pt(pageMargin, 68), 15, left, "#4a5163", subtitle)
	return p
}

// finish fixes the height once everything is written.
func (p *page) finish() *Picture {
	p.Height = p.foot + 8
	return &p.Picture
}

// show draws paths given in mm.
func (p *page) show(s style, paths ...geometry.Path) {
	p.draw(s, p.project(paths)...)
}

func (p *page) project(paths []geometry.Path) []geometry.Path {
	out := make([]geometry.Path, 0, len(paths))
	for _, q := range paths {
		if !q.Empty() {
			out = append(out, q.Transform(p.view))
		}
	}
	return out
}

// scaleBar draws a bar of a round length with its mm, and what one pixel is.
func (p *page) scaleBar() {
	long := roundLength(180 / p.scale)
	w := long * p.scale
	y := p.foot
	x := pageMargin
	half := geometry.Box{Min: geometry.Pt(x, y-7), Max: geometry.Pt(x+w/2, y)}
	whole := geometry.Box{Min: geometry.Pt(x, y-7), Max: geometry.Pt(x+w, y)}
	p.draw(style{fill: ink}, half.Path())
	p.draw(style{stroke: ink, width: 1.2}, whole.Path())
	p.write(geometry.Pt(x, y+16), 13, left, ink, "0")
	p.write(geometry.Pt(x+w, y+16), 13, middle, ink, trim(long)+" mm")
	p.foot += 44
}

// roundLength returns the largest of 1, 2, 5 × 10ⁿ that is at most v.
func roundLength(v float64) float64 {
	base := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{5, 2} {
		if k*base <= v {
			return k * base
		}
	}
	return base
}

// legend writes one entry: a sample drawn by swatch in a 46 × 16 box, a text.
func (p *page) legend(text string, swatch func(b geometry.Box)) {
	y := p.foot
	swatch(geometry.Box{Min: geometry.Pt(pageMargin, y-12), Max: geometry.Pt(pageMargin+46, y+4)})
	p.paragraph(pageMargin+60, text)
}

// paragraph writes text from x to the right margin, in as many lines as it
// takes, and moves the foot below it.
func (p *page) paragraph(x float64, text string) {
	for _, line := range wrap(text, 14.5, pageWidth-pageMargin-x) {
		p.write(geometry.Pt(x, p.foot), 14.5, left, ink, line)
		p.foot += lineHeight
	}
}

func (p *page) lineSwatch(s style) func(geometry.Box) {
	return func(b geometry.Box) {
		c := b.Centre()
		p.line(s, geometry.Pt(b.Min.X, c.Y), geometry.Pt(b.Max.X, c.Y))
	}
}

// trim writes v with at most two decimals.
func trim(v float64) string { return num(v) }

// sizeText writes a width and a height.
func sizeText(w, h float64) string { return fmt.Sprintf("%s × %s mm", trim(w), trim(h)) }

// wrap breaks text into lines of at most width pixels at the given size, as
// measured in the face of the PNG.
func wrap(text string, size, width float64) []string {
	face, err := newFace(size, false)
	if err != nil {
		return []string{text}
	}
	fits := func(s string) bool { return float64(font.MeasureString(face, s))/64 <= width*0.97 }
	var lines []string
	line := ""
	for _, word := range words(text) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if line != "" && !fits(next) {
			lines = append(lines, line)
			next = word
		}
		line = next
	}
	return append(lines, line)
}
