package figure

import (
	"math"

	"knifedesk/geometry"
)

// Panel is a drawing area in true proportion.
type Panel struct {
	View  geometry.Affine // mm (y up) to pixels
	Scale float64         // pixels for one mm
	Area  geometry.Box    // what is shown, in pixels
	Spots *Spots          // where marks may stand
}

// Inset says what lies round a drawing within its panel.
type Inset struct {
	Dimensions bool // room beside and below it for its dimensions
	Below      bool // room below it only
	Turned     bool // the drawing's y axis runs to the right of the page
	Tight      bool // no blank round the extent
	Marked     bool // room above and below it for marks
	Closed     bool // marks stay within it
}

// Where marks may stand, in pixels.
const (
	usualRoom = 10.0 // above and below a drawing
	marksRoom = 32.0 // where it is marked
	pageEdge  = 3.0  // off which marks stay
)

// Open starts a panel below what is on the page and shows extent (mm, or
// drawing units where no size is known yet) in it as large as it fits.
func (p *Page) Open(extent geometry.Box, in Inset) {
	extent = spread(extent, in.Tight)
	w, h := extent.Width(), extent.Height()
	if in.Turned {
		w, h = h, w
	}
	side, foot := 0.0, 0.0
	if in.Dimensions {
		side, foot = sideRoom, footRoom
	}
	if in.Below {
		foot = footRoom
	}
	usable := p.format.Measure() - side
	p.Scale = math.Min(usable/w, p.format.Drawing/h)
	room, apart := usualRoom, 0.0
	if in.Marked {
		room, apart = marksRoom, marksRoom-6
	}
	top := p.Foot + 6 + apart
	height := math.Max(minDrawing, h*p.Scale)
	centre := geometry.Pt(p.format.Margin+usable/2, top+height/2)
	half := geometry.Pt(w, h).Mul(p.Scale / 2)
	p.Area = geometry.BoxAround(centre.Sub(half), centre.Add(half))
	p.View = viewOf(extent.Centre(), centre, p.Scale, in.Turned)
	p.Spots = newSpots(p.b, p.marksIn(in, top-room, top+height+room), p.Area.Grow(1))
	p.Foot = top + height + max(foot, apart)
	p.Zone = zoneDrawing
}

// marksIn returns where marks may stand: as wide as the page between two heights, or within
// what is shown.
func (p *Page) marksIn(in Inset, top, foot float64) geometry.Box {
	if in.Closed {
		return p.Area
	}
	return geometry.Box{Min: geometry.Pt(pageEdge, top), Max: geometry.Pt(p.format.Width-pageEdge, foot)}
}

// blankShare is the blank on each side of an extent, as a share of its longer side.
const blankShare = 0.02

// spread gives an extent some width and some blank round it.
func spread(extent geometry.Box, tight bool) geometry.Box {
	if extent.Empty() || !extent.Min.Finite() || !extent.Max.Finite() {
		extent = geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(10, 10))
	}
	blank := blankShare
	if tight {
		blank = 0
	}
	longest := math.Max(extent.Width(), extent.Height())
	if longest == 0 {
		longest = 1
	}
	if extent.Width() == 0 || extent.Height() == 0 {
		blank = blankShare // a line or a point needs some width to be shown
	}
	return extent.Grow(blank * longest)
}

// viewOf maps mm to pixels so that the point from (mm) comes to lie at to.
func viewOf(from, to geometry.Point, scale float64, turned bool) geometry.Affine {
	if turned {
		return geometry.Affine{B: scale, C: scale, E: to.X - from.Y*scale, F: to.Y - from.X*scale}
	}
	return geometry.Affine{A: scale, D: -scale, E: to.X - from.X*scale, F: to.Y + from.Y*scale}
}

// ScaleOf returns how many pixels a mm has in a panel of the page that shows w × h
// mm tight and without dimensions.
func (p *Page) ScaleOf(w, h float64) float64 {
	return math.Min(p.format.Measure()/w, p.format.Drawing/h)
}

// ScaleBeside returns how many pixels a mm has where so many pixels beside w mm fill the
// width of the page.
func (p *Page) ScaleBeside(pixels, w float64) float64 {
	return max(p.format.Measure()-pixels, 1) / (w * (1 + 2*blankShare))
}

// OnPage returns a box in mm as a box in pixels.
func (p *Panel) OnPage(b geometry.Box) geometry.Box {
	return geometry.BoxAround(p.View.Apply(b.Min), p.View.Apply(b.Max))
}

// Project returns paths in mm in pixels, without those that draw nothing.
func (p *Page) Project(paths []geometry.Path) []geometry.Path {
	out := make([]geometry.Path, 0, len(paths))
	for _, q := range paths {
		p.b.Spend(1 + len(q.Segments))
		if !q.Empty() && q.Finite() {
			out = append(out, q.Transform(p.View))
		}
	}
	return out
}

// Show draws paths given in mm.
func (p *Page) Show(s Style, paths ...geometry.Path) {
	p.Draw(s, p.Project(paths)...)
}

// ShowWork draws lines of the work given in mm, and keeps marks off them.
func (p *Page) ShowWork(s Style, paths ...geometry.Path) {
	shown := p.Project(paths)
	p.Draw(s, shown...)
	p.Spots.Line(shown)
}

// Visible returns a path (mm) under m in pixels, or an empty path where it lies
// off the panel or draws nothing.
func (p *Page) Visible(q geometry.Path, m geometry.Affine) geometry.Path {
	p.b.Spend(1 + len(q.Segments))
	if q.Empty() || !q.Finite() {
		return geometry.Path{}
	}
	q = q.Transform(m.Then(p.View))
	if p.Hides(q.Bounds()) {
		return geometry.Path{}
	}
	return q
}

// Blank says in an empty drawing area that there is nothing to draw.
func (p *Page) Blank(text string) {
	p.Zone = zoneNotes
	p.write(p.Area.Centre(), 17, middle, Quiet, text)
}
