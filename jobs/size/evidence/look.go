package evidence

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// paint is the layer and paint of a shape: two lines of one look are one line
// drawn twice, two of different looks mean two things.
type paint struct {
	layer        string
	stroke, fill drawing.Colour
	has          [2]bool
}

func (s *Survey) paintOf(shape int) paint {
	sh := &s.Drawing.Shapes[shape]
	p := paint{layer: sh.Layer}
	if sh.Stroke != nil {
		p.stroke, p.has[0] = *sh.Stroke, true
	}
	if sh.Fill != nil {
		p.fill, p.has[1] = *sh.Fill, true
	}
	return p
}

// OnFrameLayer reports whether any of a rectangle lies on a layer that the
// convention keeps for frames.
func (s *Survey) OnFrameLayer(q *Quad) bool {
	return slices.ContainsFunc(q.Parts, func(p Part) bool { return s.layers[s.Drawing.Shapes[p.Shape].Layer].frame })
}

// LooksCut reports whether a frame lies where lines are that are cut: on a layer
// that the convention cuts, or on that of work which it holds, as all lines of a
// file without layers do.
func (s *Survey) LooksCut(f *Frame) bool {
	first := f.Quad.Parts[0].Shape
	layer := s.Drawing.Shapes[first].Layer
	if s.layers[layer].work {
		return true
	}
	return slices.ContainsFunc(f.Work.Items, func(it Item) bool { return s.Drawing.Shapes[it.Shape].Layer == layer })
}

// Ground reports whether a rectangle is painted as a surface and not drawn as a
// line: a page's background.
func (s *Survey) Ground(q *Quad) bool {
	sh := &s.Drawing.Shapes[q.Parts[0].Shape]
	return sh.Stroke == nil && sh.Fill != nil
}

// InPage says how a rectangle lies on the page that the file states.
type InPage int

// The ways to lie on a page.
const (
	NoPage      InPage = iota // the file states none, or the rectangle leaves it
	PageItself                // the rectangle is the page, or nearly
	PageMargins               // it lies in the page with even margins
	PagePart                  // it fills less of the page
)

// The bounds of lying on a page, against its longer side (common practice, no
// source).
const (
	pageItself = 0.004 // rounding of page and background to whole units of either
	pageFills  = 0.85  // of the page's sides: the frame of a page, margins left out
)

// OnPage says how a rectangle lies on the page.
func (s *Survey) OnPage(q *Quad) InPage {
	page := s.Drawing.Page
	if page == nil || !(page.Width() > 0 && page.Height() > 0) {
		return NoPage
	}
	b, slack := q.Bounds(), pageItself*math.Max(page.Width(), page.Height())
	switch {
	case !page.Grow(slack).ContainsBox(b):
		return NoPage
	case b.Grow(slack).ContainsBox(*page):
		return PageItself
	case even(*page, b):
		return PageMargins
	case page.ContainsBox(b) && math.Min(b.Width()/page.Width(), b.Height()/page.Height()) < pageFills:
		return PagePart
	}
	return NoPage
}

// even reports whether a box keeps the same margin on all sides of a page.
func even(page, b geometry.Box) bool {
	slack := 1e-3 * math.Max(page.Width(), page.Height())
	margins := []float64{b.Min.X - page.Min.X, page.Max.X - b.Max.X, b.Min.Y - page.Min.Y, page.Max.Y - b.Max.Y}
	return slices.Min(margins) > 0 && slices.Max(margins)-slices.Min(margins) <= slack && slices.Max(margins) < 0.1*math.Max(page.Width(), page.Height())
}
