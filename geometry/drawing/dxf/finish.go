package dxf

import (
	"knifedesk/geometry/drawing"
)

// finishing makes the drawing of what was read.
type finishing struct{ *reader }

// drawing returns what was read.
func (r finishing) drawing() *drawing.Drawing {
	d := &drawing.Drawing{
		Format: "dxf", Version: r.header.version, Unit: r.header.unit(),
		Kinds: map[string]int{},
	}
	for _, l := range r.layerOrder {
		d.Layers = append(d.Layers, drawing.Layer{
			Name: l.name, Colour: l.colour, Off: l.off, Frozen: l.frozen, Locked: l.locked,
		})
	}
	for _, k := range r.kinds {
		if k.count > 0 {
			d.Kinds[k.name] = k.count
		}
	}
	d.Shapes, d.Measures = r.collect(d.Unit), r.measures
	if r.text.guessed {
		r.noteLine(drawing.CodePageDoubtful, r.header.codePage, 0)
	}
	if len(d.Shapes) == 0 {
		r.count(drawing.EmptyDrawing, "")
	}
	d.Notes = r.notes.All()
	return d
}

// collect joins the shapes and gives them their paint.
func (r finishing) collect(unit drawing.Unit) []drawing.Shape {
	n := 0
	for _, piece := range r.shapes.shapes {
		n += len(piece)
	}
	all := make([]drawing.Shape, 0, n)
	for i, piece := range r.shapes.shapes {
		for j := range piece {
			r.b.Step()
			p := &r.shapes.paints[i][j]
			if p.layer.hides(r.opt) { // the layer table came after the shape
				r.count(drawing.HiddenGeometry, p.layer.name)
				continue
			}
			all = append(all, piece[j])
			p.apply(&all[len(all)-1], unit)
			r.noteDashes(&all[len(all)-1])
		}
		r.shapes.shapes[i] = nil
	}
	return all
}

func (r finishing) noteDashes(s *drawing.Shape) {
	if !s.Dashed {
		return
	}
	if f := r.count(drawing.DashedLine, s.Layer); f.Wants() {
		f.At(drawing.Place{Box: s.Bounds(), Layer: s.Layer, Source: s.Source.String()})
	}
}

// apply paints s. Line weights are in 1/100 mm, so they have a width in the
// drawing only where its unit is known.
func (p *paint) apply(s *drawing.Shape, unit drawing.Unit) {
	s.Layer = p.layer.name
	s.Stroke = p.colour
	if s.Stroke == nil {
		s.Stroke = p.from.colour
	}
	s.Dashed = p.dash != nil && p.dash.dashed
	s.DashDot = p.dash != nil && p.dash.dashDot
	if s.StrokeWidth == 0 && p.weight > 0 && unit.Declared {
		s.StrokeWidth = float64(p.weight) / 100 / unit.MM
	}
}
