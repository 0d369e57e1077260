package picture

import (
	"math"

	"knifedesk/geometry"
)

// Sizes of the page in pixels.
const (
	pageWidth  = 1000.0
	pageMargin = 36.0
	maxDrawing = 760.0
	minDrawing = 90.0
	lineHeight = 21.0
	textSize   = 14.5
	// Room beside and below a drawing for its dimensions.
	sideRoom = 92.0
	footRoom = 34.0
)

// page is a picture with a heading, one or more panels in true proportion, a
// scale bar and a legend below.
type page struct {
	Picture
	letters *lettering
	foot    float64 // next free line
	panel
}

// panel is a drawing area in true proportion.
type panel struct {
	view   geometry.Affine // mm (y up) to pixels
	scale  float64         // pixels for one mm
	area   geometry.Box    // what is shown, in pixels
	turned bool            // y runs to the right of the page
	spots  *spots          // where marks may stand
}

func newPage(title, subtitle string) *page {
	letters, err := newLettering()
	if err != nil {
		panic("preview: the faces do not parse: " + err.Error()) // they are part of the program
	}
	p := &page{letters: letters, foot: 42}
	p.Width, p.Title, p.zone = pageWidth, title+". "+subtitle, zoneHead
	p.writeBold(geometry.Pt(pageMargin, p.foot), 25, left, ink, title)
	p.foot += 26
	for _, line := range letters.wrap(shorten(subtitle), 15, pageWidth-2*pageMargin) {
		p.write(geometry.Pt(pageMargin, p.foot), 15, left, quiet, line)
		p.foot += lineHeight
	}
	return p
}

// finish fixes the height once everything is written.
func (p *page) finish() *Picture {
	p.Height = math.Ceil(p.foot + 8)
	return &p.Picture
}

// inset says what lies round a drawing within its panel.
type inset struct {
	side, foot float64 // for dimensions, in pixels
	turned     bool    // the drawing's y axis runs to the right of the page
	tight      bool    // no blank round the extent
}

// open starts a panel below what is on the page and shows extent (mm, or
// drawing units where no size is known yet) in it as large as it fits.
func (p *page) open(extent geometry.Box, in inset) {
	if extent.Empty() || !extent.Min.Finite() || !extent.Max.Finite() {
		extent = geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(10, 10))
	}
	blank := 0.02
	if in.tight {
		blank = 0
	}
	longest := math.Max(extent.Width(), extent.Height())
	if longest == 0 {
		longest = 1
	}
	if extent.Width() == 0 || extent.Height() == 0 {
		blank = 0.02 // a line or a point needs some width to be shown
	}
	extent = extent.Grow(blank * longest)
	w, h := extent.Width(), extent.Height()
	if in.turned {
		w, h = h, w
	}
	usable := pageWidth - 2*pageMargin - in.side
	p.scale = math.Min(usable/w, maxDrawing/h)
	p.turned = in.turned
	top := p.foot + 6
	height := math.Max(minDrawing, h*p.scale)
	centre := geometry.Pt(pageMargin+usable/2, top+height/2)
	p.area = geometry.BoxAround(centre.Sub(geometry.Pt(w, h).Mul(p.scale/2)), centre.Add(geometry.Pt(w, h).Mul(p.scale/2)))
	c := extent.Centre()
	p.view = geometry.Affine{A: p.scale, D: -p.scale, E: centre.X - c.X*p.scale, F: centre.Y + c.Y*p.scale}
	if in.turned {
		p.view = geometry.Affine{B: p.scale, C: p.scale, E: centre.X - c.Y*p.scale, F: centre.Y - c.X*p.scale}
	}
	p.spots = newSpots(geometry.Box{Min: geometry.Pt(pageMargin/2, top-10), Max: geometry.Pt(pageWidth-pageMargin/2, top+height+10)})
	p.foot = top + height + in.foot
	p.zone = zoneDrawing
}

// onPage returns a box in mm as a box in pixels.
func (p *page) onPage(b geometry.Box) geometry.Box {
	return geometry.BoxAround(p.view.Apply(b.Min), p.view.Apply(b.Max))
}

// show draws paths given in mm.
func (p *page) show(s style, paths ...geometry.Path) {
	p.draw(s, p.project(paths)...)
}

// project returns the paths in pixels, without those that draw nothing.
func (p *page) project(paths []geometry.Path) []geometry.Path {
	out := make([]geometry.Path, 0, len(paths))
	for _, q := range paths {
		if !q.Empty() && q.Finite() {
			out = append(out, q.Transform(p.view))
		}
	}
	return out
}

// blank says in an empty drawing area that there is nothing to draw.
func (p *page) blank(text string) {
	p.zone = zoneNotes
	p.write(p.area.Centre(), 17, middle, quiet, text)
}
