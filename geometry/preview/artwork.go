package preview

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/finding"
)

// Artwork draws every line with its operation, and the findings by number.
func Artwork(a *artwork.Artwork) *Picture {
	p := newPage("Artwork", fmt.Sprintf("%s, %d lines, true size", sizeText(a.Bounds.Width(), a.Bounds.Height()), len(a.Strokes)), a.Bounds)
	lengths := map[artwork.Operation]float64{}
	for _, s := range a.Strokes {
		p.show(strokeStyle(s.Operation), s.Path)
		lengths[s.Operation] += s.Path.Length()
	}
	p.markFindings(a.Findings)
	p.dimension(a.Bounds.Min, geometry.Pt(a.Bounds.Max.X, a.Bounds.Min.Y), 16, trim(a.Bounds.Width())+" mm")
	p.scaleBar()
	for _, op := range artwork.Operations {
		if l, ok := lengths[op]; ok {
			p.legend(fmt.Sprintf("%s, %s mm in all", operationName(op), trim(l)), p.lineSwatch(strokeStyle(op)))
		}
	}
	p.findingLegend(a.Findings)
	return p.finish()
}

// Drawing draws a drawing as it was read, in its own units, with what is wrong
// with it marked by number.
func Drawing(d *drawing.Drawing) *Picture {
	b := d.Bounds()
	sub := fmt.Sprintf("%d shapes, %s × %s units; the file says: %s", len(d.Shapes), trim(b.Width()), trim(b.Height()), unitText(d.Unit))
	p := newPage("Drawing as read", sub, b)
	for i := range d.Shapes {
		p.show(shapeStyle(&d.Shapes[i]), d.Shapes[i].Paths...)
	}
	p.markFindings(d.Findings)
	p.findingLegend(d.Findings)
	return p.finish()
}

func unitText(u drawing.Unit) string {
	if u.Name == "" || u.Name == "none" {
		return "no unit"
	}
	return "unit " + u.Name
}

func shapeStyle(s *drawing.Shape) style {
	st := style{width: 1.4}
	if s.Stroke != nil {
		st.stroke = visible(*s.Stroke)
	}
	if s.Fill != nil {
		st.fill, st.opacity = visible(*s.Fill), 0.35
		if s.Stroke == nil {
			st.stroke = st.fill
		}
	}
	if st.stroke == "" {
		st.stroke = faint
	}
	return st
}

// visible darkens colours that would vanish on white paper.
func visible(c drawing.Colour) string {
	if int(c.R)+int(c.G)+int(c.B) > 660 {
		return faint
	}
	return c.String()
}

// markFindings puts the number of each finding at its places, at most five of
// each so that the drawing stays visible.
func (p *page) markFindings(fs []finding.Finding) {
	s := style{stroke: alarm, width: 1.6, dash: []float64{5, 4}}
	for i, f := range fs {
		for k, pl := range f.Places {
			if k == 5 || pl.Box.Empty() {
				break
			}
			p.draw(s, pageBox(p.view, pl.Box).Grow(5).Path())
			p.badge(pl.Box.Centre(), 0, i+1, style{stroke: alarm, fill: paper})
		}
	}
}

func pageBox(view geometry.Affine, b geometry.Box) geometry.Box {
	return geometry.BoxAround(view.Apply(b.Min), view.Apply(b.Max))
}

func (p *page) findingLegend(fs []finding.Finding) {
	for i, f := range fs {
		n := i + 1
		p.legend(fmt.Sprintf("%s: %s", severityText(f.Severity), f.Hint), func(b geometry.Box) {
			p.draw(style{stroke: alarm, width: 1.4}, geometry.Circle(b.Centre(), 9))
			p.writeBold(geometry.Pt(b.Centre().X, b.Centre().Y+4), 12, middle, ink, fmt.Sprint(n))
		})
	}
}

func severityText(s finding.Severity) string {
	return map[finding.Severity]string{
		finding.Block: "stop", finding.Ask: "question", finding.Warn: "look", finding.Mended: "mended",
	}[s]
}
