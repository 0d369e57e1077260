package svg

import (
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// painter knows what shapes are painted with, by their style and the gradients
// of the file.
type painter struct {
	b       *budget.Budget
	doc     *document
	notes   *drawing.Notes
	cascade *cascade
	stops   map[string]rgba // first colours of gradients; transparent where there is none
	unknown *bool           // set where a percentage in a gradient had no viewport
}

// paint fills in stroke and fill. Paint that cannot be seen is none.
func (p *painter) paint(s *drawing.Shape, e *element, o *own, at spot) {
	st := &at.style
	width := at.m.px(st.strokeWidth, diagonal)
	if !o.fixedStroke {
		width *= at.ctm.MeanScale()
	}
	if at.clear {
		return
	}
	if !(width <= farthest) { // a line as wide as that is a slip; where it runs is known
		p.notes.Add(drawing.ValueUnreadable, "stroke-width", place(e, at.layer.name, s.Bounds()))
		s.StrokeWidth, width = 0, 0
		s.Stroke = p.colour(st.stroke, st, st.strokeOpacity)
	}
	if width > 0 {
		s.Stroke = p.colour(st.stroke, st, st.strokeOpacity)
	}
	if e.name != "line" { // a line has no inside
		s.Fill = p.colour(st.fill, st, st.fillOpacity)
	}
	if s.Stroke != nil {
		s.StrokeWidth = width
		s.Dashed, s.DashDot = st.dashed, st.dashDot
	}
	if s.Fill != nil {
		s.FillRule = st.fillRule
	}
}

// colour returns what a paint looks like, nil for nothing.
func (p *painter) colour(by paint, st *inherited, opacity float64) *drawing.Colour {
	c := by.colour
	switch by.kind {
	case paintNone:
		return nil
	case paintCurrent:
		c = st.color
	case paintServer:
		if stop, found := p.firstStop(by.server); found {
			c = stop
		}
	}
	if c.alpha*opacity <= 0 {
		return nil
	}
	return &drawing.Colour{R: c.R, G: c.G, B: c.B}
}

// firstStop returns the first colour of a gradient, which stands for all of
// it, grey for a pattern, and false where there is no such paint.
func (p *painter) firstStop(id string) (rgba, bool) {
	c, known := p.stops[id]
	if !known {
		c = p.findStop(p.doc.byID[id])
		p.stops[id] = c
	}
	return c, c.alpha > 0
}

func (p *painter) findStop(e *element) rgba {
	const chain = 8 // gradients may take their stops from another
	if e == nil || !paints(e.name) {
		return rgba{}
	}
	for range chain {
		for _, c := range e.children {
			p.b.Step()
			if c.name == "stop" {
				_, o := p.cascade.styleOf(c, initial(), measure{unknown: p.unknown})
				if o.stop.kind == paintColour && o.stop.colour.alpha > 0 {
					return o.stop.colour
				}
			}
		}
		id, local := strings.CutPrefix(e.href(), "#")
		if e = p.doc.byID[id]; !local || e == nil {
			break
		}
	}
	return rgba{drawing.Colour{R: 128, G: 128, B: 128}, 1}
}

// paints reports whether elements of that name paint others: gradients and the like.
func paints(name string) bool {
	switch name {
	case "linearGradient", "radialGradient", "pattern", "meshgradient", "hatch", "solidcolor":
		return true
	}
	return false
}
