package svg

import (
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// emit turns an outline into a shape of the drawing, or notes why it is none.
func (r *reader) emit(e *element, o *own, outline []geometry.Path, at spot) {
	if len(outline) == 0 || r.stopped {
		return
	}
	paths := r.placed(outline, at.ctm.Then(r.flip))
	box := r.boundsOf(paths)
	s := drawing.Shape{
		Paths: paths, Layer: at.layer.name, Source: e.source(),
		Mirrored: at.ctm.Det() < 0, Nested: r.nested(at.ctm),
	}
	here := place(e, s.Layer, box)
	if !finite(box) {
		r.notes.Add(drawing.OutOfRange, e.name, place(e, s.Layer, drawing.Reach(paths, farthest)))
		return
	}
	r.paint(&s, e, o, at)
	if s.Stroke == nil && s.Fill != nil {
		s.Fill, s.Paths = filled(s.Fill, s.Paths)
	}
	switch {
	case at.gone:
		r.notes.Add(drawing.HiddenGeometry, hiddenName(e, at), here)
		return
	case at.style.hidden, at.ctm.Det() == 0: // a flat transform shows nothing: CSS Transforms 1, section 10
		r.notes.Add(drawing.HiddenGeometry, hiddenName(e, at), here)
	case s.Stroke == nil && s.Fill == nil:
		r.notes.Add(drawing.UnpaintedGeometry, hiddenName(e, at), here)
	default:
		r.remark(&s, at, here)
		r.out.Shapes = append(r.out.Shapes, s)
		return
	}
	if r.opt.KeepHidden {
		r.out.Shapes = append(r.out.Shapes, s)
	}
}

func hiddenName(e *element, at spot) string {
	if at.layer.name != "" {
		return at.layer.name
	}
	return e.source().String()
}

// nested returns the scale of the places inside the file; rounding errors of
// float64 count as none.
func (r *reader) nested(ctm geometry.Affine) float64 {
	k := ctm.MeanScale() / r.rootScale
	const slack = 1e-9
	if k > 1-slack && k < 1+slack {
		return 1
	}
	return k
}

// placed maps paths into the drawing, up to the limit of segments.
func (r *reader) placed(outline []geometry.Path, m geometry.Affine) []geometry.Path {
	paths := make([]geometry.Path, 0, len(outline))
	for _, p := range outline {
		if r.segments += len(p.Segments); r.segments > r.opt.Limits.Segments {
			r.stop(limitSegments, r.opt.Limits.Segments)
			break
		}
		r.b.Spend(1 + len(p.Segments))
		paths = append(paths, p.Transform(m))
	}
	return paths
}

// paint fills in stroke and fill. Paint that cannot be seen is none.
func (r *reader) paint(s *drawing.Shape, e *element, o *own, at spot) {
	st := &at.style
	width := at.m.px(st.strokeWidth, diagonal)
	if !o.fixedStroke {
		width *= at.ctm.MeanScale()
	}
	if at.clear {
		return
	}
	if width > 0 {
		s.Stroke = r.colour(st.stroke, st, st.strokeOpacity)
	}
	if e.name != "line" { // a line has no inside
		s.Fill = r.colour(st.fill, st, st.fillOpacity)
	}
	if s.Stroke != nil {
		s.StrokeWidth = width
		s.Dashed = st.dashed
	}
	if s.Fill != nil {
		s.FillRule = st.fillRule
	}
}

// colour returns what a paint looks like, nil for nothing.
func (r *reader) colour(p paint, st *inherited, opacity float64) *drawing.Colour {
	c := p.colour
	switch p.kind {
	case paintNone:
		return nil
	case paintCurrent:
		c = st.color
	case paintServer:
		if stop, found := r.firstStop(p.server); found {
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
func (r *reader) firstStop(id string) (rgba, bool) {
	c, known := r.stops[id]
	if !known {
		c = r.findStop(r.doc.byID[id])
		r.stops[id] = c
	}
	return c, c.alpha > 0
}

func (r *reader) findStop(e *element) rgba {
	const chain = 8 // gradients may take their stops from another
	if e == nil || !paints(e.name) {
		return rgba{}
	}
	for range chain {
		for _, c := range e.children {
			r.b.Step()
			if c.name == "stop" {
				_, o := r.styleOf(c, initial(), measure{unknown: &r.unknown})
				if o.stop.kind == paintColour && o.stop.colour.alpha > 0 {
					return o.stop.colour
				}
			}
		}
		id, local := strings.CutPrefix(e.href(), "#")
		if e = r.doc.byID[id]; !local || e == nil {
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

// remark notes what a knife cannot follow about a visible shape, and cuts off
// by clips.
func (r *reader) remark(s *drawing.Shape, at spot, here *drawing.Place) {
	st := &at.style
	if s.Fill != nil && st.fill.kind == paintServer || s.Stroke != nil && st.stroke.kind == paintServer {
		r.notes.Add(drawing.PaintServerUsed, s.Source.String(), here)
	}
	if s.Dashed {
		r.notes.Add(drawing.DashedLine, s.Source.String(), here)
	}
	if at.shaded {
		r.notes.Add(drawing.EffectUsed, s.Source.String(), here)
	}
	if at.masked {
		r.notes.Add(drawing.MaskUsed, s.Source.String(), here)
	}
	if st.markers != [3]bool{} && hasEnds(s.Source.Kind) {
		r.notes.Add(drawing.MarkerIgnored, s.Source.String(), here)
	}
	r.b.Spend(len(at.clips))
	if s.Clips = r.regions.Cutting(at.clips, here.Box); len(s.Clips) > 0 {
		r.notes.Add(drawing.ClipPathUsed, s.Source.String(), here)
	}
}

// hasEnds reports whether markers stand on elements of that name.
func hasEnds(name string) bool {
	switch name {
	case "path", "line", "polyline", "polygon":
		return true
	}
	return false
}

// filled drops from a fill the paths that lie on one line: they have no inside
// and show nothing. Where all do, there is no fill.
func filled(fill *drawing.Colour, paths []geometry.Path) (*drawing.Colour, []geometry.Path) {
	const slack = 1e-9 // pixels: rounding
	onLine := func(p geometry.Path) bool { return p.OnLine(slack) }
	if !slices.ContainsFunc(paths, onLine) {
		return fill, paths
	}
	wide := slices.DeleteFunc(slices.Clone(paths), onLine)
	if len(wide) == 0 {
		return nil, paths
	}
	return fill, wide
}
